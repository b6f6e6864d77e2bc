// Rehearsal marks: the letter over each section of a song.

import type { Song } from '../show/song.ts'

/** The section a section takes its cues, tempo and meters from. One step: a copy of a copy is refused where documents are read. */
export const sourceOf = (song: Song, id: string): string => song.sections[id]!.sameAs?.section ?? id

/**
 * The mark of every section by id: its own, or else the next letter that no section claims (after Z: AA, BB…); a copy
 * has its source's with one prime more than the copy before.
 */
export function rehearsalMarks(song: Song): ReadonlyMap<string, string> {
  const marks = new Map<string, string>()
  const claimed = new Set(song.sectionOrder.map(id => song.sections[id]!.mark))
  let letters = 0
  for (const id of song.sectionOrder) {
    let mark = song.sections[id]!.mark
    while (mark === undefined && sourceOf(song, id) === id) {
      const next = letter(letters++)
      if (!claimed.has(next)) mark = next
    }
    if (mark !== undefined) marks.set(id, mark)
  }
  const copies = new Map<string, number>()
  for (const id of song.sectionOrder) {
    if (marks.has(id)) continue
    const source = sourceOf(song, id)
    const count = (copies.get(source) ?? 0) + 1
    copies.set(source, count)
    marks.set(id, marks.get(source) + primes(count))
  }
  return marks
}

const letter = (n: number): string => String.fromCharCode(65 + (n % 26)).repeat(1 + Math.floor(n / 26))
const primes = (n: number): string => '‴'.repeat(Math.floor(n / 3)) + ['', '′', '″'][n % 3]
