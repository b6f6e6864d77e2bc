// What was found out about a file, kept until the file is another one: a preflight that runs again reads nothing twice.

import { stat } from 'node:fs/promises'

/** Calls `look` with a path when the file there has changed since; rejects as `stat` does when there is none. */
export function onceSeen<T>(look: (path: string) => Promise<T>): (path: string) => Promise<T> {
  const seen = new Map<string, { stamp: string; found: Promise<T> }>()
  return async path => {
    const { size, mtimeMs, ino } = await stat(path)
    const stamp = `${ino} ${size} ${mtimeMs}`
    const known = seen.get(path)
    if (known?.stamp === stamp) return known.found
    const found = look(path)
    seen.set(path, { stamp, found })
    // What could not be found out is tried again.
    found.catch(() => seen.delete(path))
    return found
  }
}
