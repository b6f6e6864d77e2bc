// Where a place of the version that plays lies on the chart of a draft that has other bars, and back.

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, type EditArgs, type EditName } from '@glowchart/shared/show/edits.ts'
import { type Timeline, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { samePlace, sameSpan } from '@glowchart/shared/version/same-place.ts'
import { expect, it } from 'vitest'
import { sampleDocuments } from '../show/samples.ts'

const song = 'kettle'
const plays = sampleDocuments()
const edited = <N extends EditName>(from: Documents, name: N, args: EditArgs<N>): Documents =>
  applyEdit(from, name, args).next
const laidOut = ({ show }: Documents): Timeline => timelineOf(show.songs[song]!)
const startIn = (timeline: Timeline, id: string): number =>
  timeline.sections.find(section => section.id === id)!.start

const there = laidOut(plays)

it('is as far into the same section, wherever that stands by now', () => {
  const draft = edited(plays, 'addSection', { song, section: 'call', name: 'Call', bars: 4, before: 'intro' })
  const here = laidOut(edited(draft, 'moveSection', { song, section: 'verse4', before: 'verse2' }))
  for (const { id, start } of there.sections) {
    const at = { at: startIn(here, id) + 960, there: true }
    expect(samePlace(there, here, start + 960)).toEqual(at)
    expect(samePlace(here, there, at.at)).toEqual({ at: start + 960, there: true })
  }
  expect(samePlace(there, here, there.length)).toEqual({ at: here.length, there: true })
})

it('is nowhere in a section that the other has not, or has shorter: then the song is next in both where that ends', () => {
  const draft = edited(plays, 'setSectionBars', { song, section: 'intro', bars: 2 })
  const here = laidOut(edited(draft, 'deleteSection', { song, section: 'lift' }))
  const bar = 4 * 960
  expect(samePlace(there, here, 2 * bar - 1)).toEqual({ at: 2 * bar - 1, there: true })
  expect(samePlace(there, here, 3 * bar)).toEqual({ at: startIn(here, 'verse'), there: false })
  expect(samePlace(there, here, startIn(there, 'lift'))).toEqual({
    at: startIn(here, 'verse2'),
    there: false,
  })
  const last = laidOut(edited(plays, 'deleteSection', { song, section: 'end' }))
  expect(samePlace(there, last, startIn(there, 'end'))).toEqual({ at: last.length, there: false })
})

it('holds for a loop only where both of its ends have a place, in their order', () => {
  const moved = laidOut(edited(plays, 'moveSection', { song, section: 'end', before: 'intro' }))
  const verse = { from: startIn(there, 'verse'), to: startIn(there, 'lift') }
  const far = startIn(moved, 'verse') - verse.from
  expect(sameSpan(there, moved, verse)).toEqual({ from: verse.from + far, to: verse.to + far })
  expect(sameSpan(there, moved, { from: verse.from, to: there.length })).toBeNull()
  const short = laidOut(edited(plays, 'setSectionBars', { song, section: 'verse', bars: 6 }))
  expect(sameSpan(there, short, verse)).toBeNull()
})
