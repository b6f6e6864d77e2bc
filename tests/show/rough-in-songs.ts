// Bare songs for the rough-in: eight sections each on the demo's rig and kits, and the moods for them.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { type Mood, moodNames } from '@glowchart/shared/show/rough-in/moods.ts'
import type { Meter } from '@glowchart/shared/show/song.ts'

export const SONG = 'bare'

export const meters = {
  'four-four at 120': { bpm: 120, meter: { beats: 4, unit: 4 } },
  'four-four at 176': { bpm: 176, meter: { beats: 4, unit: 4 } },
  'seven-eight at 148': { bpm: 148, meter: { beats: 7, unit: 8 } },
  'three-four at 84': { bpm: 84, meter: { beats: 3, unit: 4 } },
  'six-eight at 210': { bpm: 210, meter: { beats: 6, unit: 8 } },
} satisfies Record<string, { bpm: number; meter: Meter }>

/** What a band might ask for; the second refrain repeats the first. */
export const moods: Record<string, Mood> = {
  intro: 'hushed',
  verse: 'tender',
  rise: 'rolling',
  refrain: 'soaring',
  verse2: 'floating',
  bridge: 'broken',
  last: 'driving',
  coda: 'closing',
}

const bars: Record<string, number> = {
  intro: 4,
  verse: 8,
  rise: 4,
  refrain: 8,
  verse2: 8,
  bridge: 5,
  last: 8,
  coda: 6,
}

/** The demo with one song only: eight sections without a track or a cue, and a ninth that repeats the refrain. */
export function bareSong({ bpm, meter }: { bpm: number; meter: Meter }): Documents {
  const { rig, show } = demoBundle()
  const { tonightList: _, ...rest } = show
  let documents: Documents = { rig, show: { ...rest, songs: {}, songOrder: [], setLists: {} } }
  const edit = (name: string, args: object) => {
    documents = applyEdit(documents, name, { song: SONG, ...args }).next
  }
  const [first, ...others] = Object.keys(moods)
  edit('addSong', { title: 'Unlit', bpm, meter, section: first, sectionName: first, bars: bars[first!] })
  for (const section of others) edit('addSection', { section, name: section, bars: bars[section] })
  edit('duplicateSection', { section: 'refrain', as: 'again', linked: true, before: 'coda' })
  return documents
}

export const roughedIn = (documents: Documents, seed: number, asked: Record<string, Mood> = moods) =>
  applyEdit(documents, 'roughIn', { song: SONG, moods: asked, seed })

/** Moods in another order, by a number. */
export const turnedMoods = (by: number): Record<string, Mood> =>
  Object.fromEntries(
    Object.keys(moods).map((section, i) => [section, moodNames[(i * 3 + by) % moodNames.length]!]),
  )
