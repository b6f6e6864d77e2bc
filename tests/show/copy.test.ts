// A section's light copied onto another: cut where it is longer, left as it is where shorter, linked copies let go.

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import type { Cue, Song } from '@glowchart/shared/show/song.ts'
import { describe, expect, it } from 'vitest'
import { sampleDocuments } from './samples.ts'

const BAR = 3840
const light = {
  level: 1,
  colours: { along: 'none', colour: { hex: '#ffffff' } },
  motion: { kind: 'sustain' },
}

/** A song of three own sections, 2, 4 and 1 bars, and one that repeats the second; two tracks, `low` and `high`. */
function documents(): Documents {
  const base = sampleDocuments()
  const song = base.show.songs.kettle!
  const tracks = Object.keys(song.tracks)
  const [low, high] = [tracks[0]!, tracks.find(t => song.tracks[t]!.part !== song.tracks[tracks[0]!]!.part)!]
  const made: Song = {
    ...song,
    sections: Object.fromEntries(
      [
        ['two', 2],
        ['four', 4],
        ['one', 1],
      ].map(([id, bars]) => [
        id,
        { name: `${id}`, bars: Number(bars), meters: [], tempo: [], vamp: false, cues: {} },
      ]),
    ),
    sectionOrder: ['two', 'four', 'one'],
    meter: { beats: 4, unit: 4 },
  }
  let out: Documents = { ...base, show: { ...base.show, songs: { ...base.show.songs, kettle: made } } }
  const add = (section: string, cues: Record<string, [string, number, number]>): void => {
    const whole = Object.fromEntries(
      Object.entries(cues).map(([id, [track, at, length]]) => [
        id,
        { track: track === 'low' ? low : high, at, length, name: id, light },
      ]),
    )
    out = edit(out, 'addCues', { section, cues: whole })
  }
  add('two', { wash: ['low', 0, 2 * BAR], hit: ['high', BAR, 960] })
  add('four', { long: ['low', 0, 4 * BAR], top: ['high', 2 * BAR, 2 * BAR] })
  return edit(out, 'duplicateSection', { section: 'four', as: 'again', linked: true, before: null })
}

const edit = (before: Documents, name: string, args: object): Documents =>
  applyEdit(before, name, { song: 'kettle', ...args }).next
const section = (after: Documents, id: string) => after.show.songs.kettle!.sections[id]!
/** Name, start and end of every cue, in bars. */
const cues = (after: Documents, id: string) =>
  Object.values(section(after, id).cues)
    .map((cue: Cue) => [cue.name, cue.at / BAR, (cue.at + cue.length) / BAR])
    .sort((a, b) => `${a}`.localeCompare(`${b}`))

describe('copying a section onto another', () => {
  it('takes its place as far as it reaches: what lies after a shorter source stays', () => {
    const after = edit(documents(), 'copySection', { section: 'two', onto: 'four', how: 'replace' })
    expect(section(after, 'four').bars).toBe(4)
    expect(cues(after, 'four')).toEqual([
      ['hit', 1, 1.25],
      ['long', 2, 4],
      ['top', 2, 4],
      ['wash', 0, 2],
    ])
    expect(cues(after, 'two')).toEqual(cues(documents(), 'two'))
  })

  it('cuts a longer source at the end of the section', () => {
    const after = edit(documents(), 'copySection', { section: 'four', onto: 'two', how: 'replace' })
    expect(cues(after, 'two')).toEqual([['long', 0, 2]])
  })

  it('lays it over: only what the copied cues cover goes, on their tracks', () => {
    const after = edit(documents(), 'copySection', { section: 'two', onto: 'four', how: 'over' })
    expect(cues(after, 'four')).toEqual([
      ['hit', 1, 1.25],
      ['long', 2, 4],
      ['top', 2, 4],
      ['wash', 0, 2],
    ])
    const low = edit(documents(), 'copySection', { section: 'four', onto: 'two', how: 'over' })
    expect(cues(low, 'two')).toEqual([
      ['hit', 1, 1.25],
      ['long', 0, 2],
    ])
  })

  it('leaves nothing of a cue where it could not begin: past the section’s end, behind a copied one', () => {
    let before = documents()
    for (const [id, length] of [
      ['two', 4],
      ['four', 4.5],
    ] as const) {
      const [cue] = Object.entries(section(before, id).cues).find(([, one]) =>
        ['wash', 'long'].includes(one.name!),
      )!
      before = edit(before, 'resizeCue', { section: id, cue, at: 0, length: length * BAR })
    }
    const after = edit(before, 'copySection', { section: 'four', onto: 'two', how: 'over' })
    expect(cues(after, 'two')).toEqual([
      ['hit', 1, 1.25],
      ['long', 0, 2.5],
    ])
  })

  it('copies one part only', () => {
    const { tracks } = documents().show.songs.kettle!
    const { track } = Object.values(section(documents(), 'two').cues).find(cue => cue.name === 'hit')!
    const { part } = tracks[track]!
    const after = edit(documents(), 'copySection', { section: 'two', onto: 'four', how: 'replace', part })
    expect(cues(after, 'four')).toEqual([
      ['hit', 1, 1.25],
      ['long', 0, 4],
      ['top', 2, 4],
    ])
  })

  it('unlinks a section that repeats another; for one part it frees that alone', () => {
    const whole = edit(documents(), 'copySection', { section: 'two', onto: 'again', how: 'replace' })
    expect(section(whole, 'again').sameAs).toBeUndefined()
    expect(cues(whole, 'again').map(([name]) => name)).toEqual(['hit', 'long', 'top', 'wash'])
    const { tracks } = documents().show.songs.kettle!
    const { track } = Object.values(section(documents(), 'two').cues).find(cue => cue.name === 'wash')!
    const { part } = tracks[track]!
    const one = edit(documents(), 'copySection', { section: 'two', onto: 'again', how: 'replace', part })
    expect(section(one, 'again').sameAs?.section).toBe('four')
    expect(cues(one, 'again')).toEqual([
      ['long', 2, 4],
      ['wash', 0, 2],
    ])
  })

  it('copies what a section plays that repeats another', () => {
    const after = edit(documents(), 'copySection', { section: 'again', onto: 'one', how: 'replace' })
    expect(cues(after, 'one')).toEqual([['long', 0, 1]])
  })

  it('refuses a section onto itself', () => {
    expect(() => edit(documents(), 'copySection', { section: 'two', onto: 'two', how: 'over' })).toThrow(
      /onto itself/,
    )
  })
})
