// Every show and rig of the data folder, read as if it were opened, and the recordings that the open show names.

import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { readdir, readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { CodedError, type Problem, problem } from '@glowchart/shared/errors.ts'
import type { RecordingFact } from '@glowchart/shared/preflight/facts.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import { parseJson } from '@glowchart/shared/show/json.ts'
import { onceSeen } from './seen.ts'

export interface FileFacts {
  readonly unreadable: readonly Problem[]
  readonly read: number
  /** When the newest of them was written, ms since 1970; 0 without any. */
  readonly newest: number
}

/** Reads again only what has changed since it was last asked. */
export function fileReader(folder: string): () => Promise<FileFacts> {
  const parse = { rigs: parseRig, shows: parseShow }
  const problemIn = (kind: keyof typeof parse) =>
    onceSeen(async (path): Promise<Problem | null> => {
      try {
        parse[kind](parseJson(await readFile(path, 'utf8'), path), path)
        return null
      } catch (error) {
        return error instanceof CodedError ? error.problem : unreadable(path, error)
      }
    })
  const look = { rigs: problemIn('rigs'), shows: problemIn('shows') }
  return async () => {
    const found: Problem[] = []
    let read = 0
    let newest = 0
    for (const kind of ['rigs', 'shows'] as const) {
      const names = await readdir(join(folder, kind)).catch(() => [])
      for (const name of names.filter(one => one.endsWith('.json'))) {
        const path = join(folder, kind, name)
        try {
          newest = Math.max(newest, (await stat(path)).mtimeMs)
          const fault = await look[kind](path)
          if (fault) found.push(fault)
          read++
        } catch (error) {
          found.push(unreadable(path, error))
        }
      }
    }
    return { unreadable: found, read, newest }
  }
}

const unreadable = (path: string, error: unknown): Problem =>
  problem('file.unreadable', `the file cannot be read (${(error as Error).message})`, path)

/** Looks at recordings by their bytes: their names are the hash of what was taken in. */
export function recordingReader(folder: string): (files: readonly string[]) => Promise<RecordingFact[]> {
  const hash = onceSeen(async path => {
    const sum = createHash('sha256')
    for await (const chunk of createReadStream(path)) sum.update(chunk as Buffer)
    return sum.digest('hex')
  })
  return async files => {
    const facts: RecordingFact[] = []
    for (const file of files) {
      const found = await hash(join(folder, 'audio', file)).catch(() => null)
      const state = found === null ? 'missing' : file.startsWith(`${found}.`) ? 'whole' : 'damaged'
      facts.push({ file, state })
    }
    return facts
  }
}
