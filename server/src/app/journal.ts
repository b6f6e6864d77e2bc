// The journal of edits: a small line, appended and forced to the disk, keeps an edit long before its whole file is written.

import { createHash } from 'node:crypto'
import { join } from 'node:path'
import type { Diff } from '@glowchart/shared/show/diff.ts'
import { codeOf, type Disk, type OpenFile, replaceFile } from './disk.ts'

export type Kind = 'rig' | 'show'

/** What a document's file holds at a place of the journal: the SHA-256 of its text. */
export interface FileState {
  readonly id: string
  readonly hash: string
}

/** One line: the state of the files, or edits that became durable together and come after it. */
export type Entry =
  | { readonly files: Partial<Record<Kind, FileState>> }
  | { readonly edits: readonly { readonly document: Kind; readonly diff: Diff }[] }

/** What a start finds. */
export interface FoundJournal {
  readonly text: string
  readonly entries: readonly Entry[]
  /** There is a whole line that cannot be read. A last line without its end was never acknowledged, and is none. */
  readonly damaged: boolean
}

export interface Journal {
  readonly path: string
  /** Whether there is one to append to. */
  readonly isOpen: boolean
  /** Opens the one that is there, without its torn end; null when there is none. */
  resume(): Promise<FoundJournal | null>
  /** Begins a new one in the place of the old, with one line. When it fails, there may be none open. */
  begin(entry: Entry): Promise<void>
  /** Durable when it resolves; when it rejects, the line does not count. */
  append(entry: Entry): Promise<void>
  remove(): Promise<void>
}

const NAME = 'edits.journal'
const FORMAT = 'glowchart-journal-1'

/** SHA-256 (FIPS 180-4), hex. */
export const hashOf = (text: string): string => createHash('sha256').update(text).digest('hex')

/** The check-sum of a line covers the one before, so that lines of another journal never pass for its own. */
const sumOf = (before: string, json: string): string => hashOf(before + json).slice(0, 16)

/** `<data folder>/edits.journal`: lines of a check-sum, a space, JSON. */
export function journalIn(folder: string, disk: Disk): Journal {
  const path = join(folder, NAME)
  let file: OpenFile | null = null
  let sum = FORMAT
  /** Bytes that count. */
  let length = 0
  /** There may be more in the file than what counts. */
  let torn = false

  function line(before: string, entry: Entry): { text: string; sum: string } {
    const json = JSON.stringify(entry)
    const own = sumOf(before, json)
    return { text: `${own} ${json}\n`, sum: own }
  }

  async function close(): Promise<void> {
    const old = file
    file = null
    await old?.close()
  }

  return {
    path,
    get isOpen() {
      return file !== null
    },

    async resume() {
      let text: string
      try {
        text = await disk.read(path)
      } catch (error) {
        if (codeOf(error) === 'ENOENT') return null
        throw error
      }
      const found = readJournal(text)
      file = await disk.openEnd(path)
      ;({ sum, length } = found)
      torn = true
      return found
    },

    async begin(entry) {
      await close()
      const first = line(FORMAT, entry)
      await replaceFile(disk, folder, NAME, first.text)
      file = await disk.openEnd(path)
      sum = first.sum
      length = Buffer.byteLength(first.text)
      torn = false
    },

    async append(entry) {
      if (!file) throw new Error('the journal of edits is not open')
      if (torn) await file.truncate(length)
      const next = line(sum, entry)
      torn = true
      await file.write(next.text)
      await file.sync()
      torn = false
      sum = next.sum
      length += Buffer.byteLength(next.text)
    },

    async remove() {
      await close()
      await disk.remove(path)
      await disk.syncFolder(folder)
    },
  }
}

/** The lines that count, with the check-sum of the last and the bytes up to its end. */
export function readJournal(text: string): FoundJournal & { sum: string; length: number } {
  const lines = text.split('\n').slice(0, -1)
  const entries: Entry[] = []
  let sum = FORMAT
  let length = 0
  for (const line of lines) {
    const json = line.slice(17)
    if (line.slice(0, 17) !== `${sumOf(sum, json)} `) return { text, entries, sum, length, damaged: true }
    entries.push(JSON.parse(json))
    sum = line.slice(0, 16)
    length += Buffer.byteLength(line) + 1
  }
  return { text, entries, sum, length, damaged: false }
}
