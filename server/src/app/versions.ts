// Earlier versions of a document: kept beside it, the newest that still reads well found when the document does not.

import { copyFile, mkdir, readdir, readFile, rm } from 'node:fs/promises'
import { basename, join } from 'node:path'

/** A version is kept at most once in this time, so that an evening's work fits into the number kept. */
const APART_MS = 60_000
const MOST = 50

/** The versions of one document. */
export interface Versions {
  /** Keeps the file as it is now, unless one was kept a moment ago. */
  keep(): Promise<void>
  /** The newest version that `read` accepts, with its file. */
  newest<T>(read: (text: string, path: string) => T): Promise<{ value: T; path: string } | null>
}

/** @param path the document's file; its versions lie in a folder of `folder` with the file's name */
export function versionsOf(path: string, folder: string): Versions {
  const kept = join(folder, basename(path, '.json'))
  let last = 0
  const files = async (): Promise<string[]> => (await readdir(kept).catch(() => [])).sort()
  return {
    async keep() {
      const now = Date.now()
      // A clock set back must not stop versions from being kept.
      if (Math.abs(now - last) < APART_MS) return
      await mkdir(kept, { recursive: true })
      const stamp = new Date(now).toISOString().replaceAll(':', '.')
      const done = await copyFile(path, join(kept, `${stamp}.json`)).then(
        () => true,
        () => false,
      )
      if (done) last = now
      for (const old of (await files()).slice(0, -MOST)) await rm(join(kept, old), { force: true })
    },
    async newest(read) {
      for (const file of (await files()).reverse()) {
        const at = join(kept, file)
        try {
          return { value: read(await readFile(at, 'utf8'), at), path: at }
        } catch {
          // Try the one before.
        }
      }
      return null
    },
  }
}
