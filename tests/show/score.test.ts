// A section's score under edits: notes keep their time, and patterns cut in two go on where they were.

import { applyEdit } from '@glowchart/shared/show/edits.ts'
import type { Phrase } from '@glowchart/shared/show/song.ts'
import { describe, expect, it } from 'vitest'
import { sampleDocuments } from './samples.ts'

/** Every note of a section's score: [tick from the section's start, key]. */
function sounded(phrases: readonly Phrase[]): [number, number][] {
  const out: [number, number][] = []
  for (const { at, length, every, origin, notes } of phrases) {
    for (let start = origin as number; start < length; start += every) {
      for (const [tick, , key] of notes) {
        const place = start + tick
        if (tick < every && place >= 0 && place < length) out.push([at + place, key])
      }
    }
  }
  return out.sort((a, b) => a[0] - b[0] || a[1] - b[1])
}

const intro = { song: 'kettle', section: 'intro' }
const scoreAfter = (name: string, args: object) =>
  applyEdit(sampleDocuments(), name, { ...intro, ...args }).next.show.songs.kettle!.sections.intro!.score!
const before = sounded(sampleDocuments().show.songs.kettle!.sections.intro!.score!)
const bar = 3840

describe('the score of a section', () => {
  it('moves with the bars put in before it, and plays on through those put in the middle', () => {
    const after = sounded(scoreAfter('insertBars', { bar: 1, count: 2 }))
    expect(after.filter(([at]) => at < bar)).toEqual(before.filter(([at]) => at < bar))
    expect(after.filter(([at]) => at >= 3 * bar)).toEqual(
      before.filter(([at]) => at >= bar).map(([at, key]) => [at + 2 * bar, key]),
    )
    expect(after.filter(([at]) => at >= bar && at < 3 * bar).length).toBeGreaterThan(0)
  })

  it('loses the notes of bars taken out, and no other', () => {
    expect(sounded(scoreAfter('removeBars', { bar: 0, count: 1 }))).toEqual(
      before.filter(([at]) => at >= bar).map(([at, key]) => [at - bar, key]),
    )
  })

  it('is cut with its section', () => {
    expect(sounded(scoreAfter('setSectionBars', { bars: 1 }))).toEqual(before.filter(([at]) => at < bar))
  })
})
