// Where the show was left, on disk: written whole, at most once a second, and read again at the next start.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { isUnderWay, KEPT_FOR, type Kept, keptSchema } from '@glowchart/shared/recovery/kept.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { nodeDisk, replaceFile } from '../app/disk.ts'

const NAME = 'left.json'
/** Changes are written at most so often, ms. */
const EVERY = 1000
/** Without a change it is dated anew so often, ms: how long ago it ended is told from it. */
const DATED = 60_000

/** What an earlier start left; null when there is nothing, it cannot be read, or it is another night's. */
export function readLeft(dataFolder: string, now: number): Kept | null {
  try {
    const kept = keptSchema.parse(JSON.parse(readFileSync(join(dataFolder, NAME), 'utf8')))
    return isUnderWay(kept) && Math.abs(now - Date.parse(kept.at)) < KEPT_FOR ? kept : null
  } catch {
    // A hint, and no document: without it the show begins as ever.
    return null
  }
}

export interface LeftWriter {
  put(kept: Kept): void
  close(): Promise<void>
}

/** Never throws and never waits: a disk that takes nothing leaves what was written before. */
export function leftWriter(dataFolder: string): LeftWriter {
  let written: Kept | null = null
  let newest: Kept | null = null
  let timer: NodeJS.Timeout | undefined
  let writing = Promise.resolve()

  const write = (): void => {
    timer = undefined
    const kept = newest
    if (!kept || kept === written) return
    written = kept
    writing = writing
      .then(() => replaceFile(nodeDisk, dataFolder, NAME, `${JSON.stringify(kept)}\n`))
      .catch(() => {
        // Tried again with the next change.
        written = null
      })
  }
  return {
    put(kept) {
      if (written && isSame(written, kept)) return
      newest = kept
      timer ??= setTimeout(write, EVERY)
    },
    async close() {
      clearTimeout(timer)
      write()
      await writing
    },
  }
}

const isSame = (a: Kept, b: Kept): boolean =>
  Math.abs(Date.parse(b.at) - Date.parse(a.at)) < DATED && sameValue({ ...a, at: '' }, { ...b, at: '' })
