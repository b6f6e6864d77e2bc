// Bars put in and taken out: what lies after moves, what lies across grows or shrinks, copies follow.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import type { Section } from '@glowchart/shared/show/song.ts'
import { describe, expect, it } from 'vitest'
import { sampleDocuments } from './samples.ts'

const edit = (documents: Documents, name: string, args: object): Documents =>
  applyEdit(documents, name, { song: 'kettle', ...args }).next
const section = (documents: Documents, id: string): Section => documents.show.songs.kettle!.sections[id]!
const spans = (documents: Documents, id: string): Record<string, [number, number]> =>
  Object.fromEntries(Object.entries(section(documents, id).cues).map(([cue, c]) => [cue, [c.at, c.length]]))

/** The verse: 4 bars of 4/4 (3840 ticks), then 4 of 7/8 (3360); v1 −960…8040, v3 9000…33000, v2 15360…18720, v4 20000…24000. */
describe('inserting bars', () => {
  it('moves cues and marks after the place, lengthens those across it, and leaves those before', () => {
    const after = edit(sampleDocuments(), 'insertBars', { section: 'verse', bar: 3, count: 2 })
    expect(section(after, 'verse').bars).toBe(10)
    expect(spans(after, 'verse')).toEqual({
      v1: [-960, 9000],
      v3: [9000, 24000 + 7680],
      v2: [15360 + 7680, 3360],
      v4: [20000 + 7680, 4000],
    })
    expect(section(after, 'verse').meters).toEqual([{ bar: 6, meter: { beats: 7, unit: 8 } }])
    // The glide from 7680 to 15360 lies across bar 3 (11520).
    expect(section(after, 'verse').tempo).toEqual([
      { at: 0, bpm: 104 },
      { at: 7680, bpm: 120, glide: 7680 + 7680 },
    ])
  })

  it('lets new bars have the meter of the bar before them', () => {
    const after = edit(sampleDocuments(), 'insertBars', { section: 'verse', bar: 6, count: 1 })
    expect(spans(after, 'verse').v3).toEqual([9000, 24000 + 3360])
  })

  it('at the start moves all, pick-ups too; the section still begins in its tempo and meter', () => {
    const after = edit(sampleDocuments(), 'insertBars', { section: 'verse', bar: 0, count: 1 })
    expect(spans(after, 'verse').v1).toEqual([2880, 9000])
    expect(section(after, 'verse').tempo[0]).toEqual({ at: 0, bpm: 104 })
    const lift = edit(sampleDocuments(), 'insertBars', { section: 'lift', bar: 0, count: 1 })
    expect(section(lift, 'lift').meters).toEqual([{ bar: 0, meter: { beats: 4, unit: 4 } }])
  })

  it('is followed by copies of the same length, with the cues of their freed tracks; shorter ones stay', () => {
    const after = edit(sampleDocuments(), 'insertBars', { section: 'verse', bar: 0, count: 2 })
    expect(['verse2', 'verse3', 'verse4'].map(id => section(after, id).bars)).toEqual([10, 6, 10])
    expect(spans(after, 'verse2')).toEqual({ w1: [960 + 7680, 1920] })
  })

  it('keeps the points of a level where they lie in the music', () => {
    const after = edit(sampleDocuments(), 'insertBars', { section: 'verse', bar: 1, count: 1 })
    const points = (documents: Documents, id: string, cue: string): number[] => {
      const { light } = section(documents, id).cues[cue]!
      if ('look' in light || typeof light.level === 'number') throw new Error('a cue with points is needed')
      return light.level.map(p => p.at)
    }
    // v1 starts at −960: its points lie at −960, 960 and 2880, all before bar 1 (3840).
    expect(points(after, 'verse', 'v1')).toEqual([0, 1920, 3840])
    // The end begins in 7/8: its bar 1 is at 3360, before the last point of e1.
    const end = edit(sampleDocuments(), 'insertBars', { section: 'end', bar: 1, count: 1 })
    expect(points(end, 'end', 'e1')).toEqual([0, 1920, 3840 + 3360])
  })

  it.each([1, 2, 3, 4, 5, 7, 8])('before bar %i, and taking them out again, is nothing', bar => {
    const before = sampleDocuments()
    const longer = edit(before, 'insertBars', { section: 'verse', bar, count: 3 })
    const after = edit(longer, 'removeBars', { section: 'verse', bar, count: 3 })
    expect(canonicalText(after.show)).toBe(canonicalText(before.show))
  })
})

describe('removing bars', () => {
  it('takes the cues inside with it, moves those after, and shortens those across', () => {
    // Bars 5 and 6 (0-based 4 and 5): 15360…22080.
    const after = edit(sampleDocuments(), 'removeBars', { section: 'verse', bar: 4, count: 2 })
    expect(spans(after, 'verse')).toEqual({ v1: [-960, 9000], v3: [9000, 24000 - 6720], v4: [15360, 1920] })
  })

  it('leaves of a cue that starts inside what followed, as if the rest had been there', () => {
    const after = edit(sampleDocuments(), 'removeBars', { section: 'verse', bar: 4, count: 2 })
    expect(section(after, 'verse').cues.v4).toMatchObject({ at: 15360, length: 1920, origin: -2080 })
  })

  it('keeps the tempo and meter of what follows', () => {
    const after = edit(sampleDocuments(), 'removeBars', { section: 'verse', bar: 4, count: 1 })
    expect(section(after, 'verse').meters).toEqual([{ bar: 4, meter: { beats: 7, unit: 8 } }])
    const early = edit(sampleDocuments(), 'removeBars', { section: 'verse', bar: 0, count: 1 })
    expect(section(early, 'verse').tempo).toEqual([
      { at: 0, bpm: 104 },
      { at: 3840, bpm: 120, glide: 7680 },
    ])
  })

  it('of the whole section, or past its end, is refused', () => {
    for (const args of [
      { bar: 0, count: 8 },
      { bar: 7, count: 2 },
      { bar: 9, count: 1 },
    ]) {
      expect(() => edit(sampleDocuments(), 'removeBars', { section: 'verse', ...args })).toThrow(
        expect.objectContaining({ code: 'edit.outside' }),
      )
    }
  })
})

describe('setting the number of bars', () => {
  it('takes away what starts past the new end, and lengthens copies of the same length with it', () => {
    const after = edit(sampleDocuments(), 'setSectionBars', { section: 'verse', bars: 3 })
    expect(Object.keys(section(after, 'verse').cues).sort()).toEqual(['v1', 'v3'])
    expect(section(after, 'verse').meters).toEqual([])
    expect(['verse2', 'verse3', 'verse4'].map(id => section(after, id).bars)).toEqual([3, 6, 3])
  })

  it('of a copy clips it alone', () => {
    const after = edit(sampleDocuments(), 'setSectionBars', { section: 'verse2', bars: 4 })
    expect(['verse', 'verse2', 'verse4'].map(id => section(after, id).bars)).toEqual([8, 4, 8])
  })
})
