// The song that the panel's pictures are drawn from: the chosen cues alone where they stand, and each motion after the end.

import { type Light, motionKinds } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue, Section } from '@glowchart/shared/show/song.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import type { ViewedSong } from '../document/viewed.ts'
import type { Chosen } from './chosen.ts'
import { motionAs, motionWords } from './motions.ts'

const TILES = 'motions-of-the-panel'
const BAR = 3840
/** Bars kept for each motion; none is shown for longer. */
const ROOM = 64

export interface Pictures {
  readonly show: Show
  readonly song: string
  /** Start and end in ticks. */
  readonly cue: readonly [number, number]
  /** By motion, in the order of `motionKinds`. */
  readonly tiles: readonly (readonly [number, number])[]
}

/** @param lights of the chosen cues, as they are being changed @param swatches likewise */
export function picturesOf(
  show: Show,
  viewed: ViewedSong,
  chosen: readonly Chosen[],
  lights: readonly Light[],
  swatches: Show['swatches'],
): Pictures {
  const { id, song, timeline } = viewed
  const first = chosen[0]!
  const bpm = bpmAt(timeline.tempo, first.place.at)
  const cues = new Map<string, Record<string, Cue>>()
  for (const [i, { ref, place }] of chosen.entries()) {
    const home = cues.get(ref.section) ?? {}
    const written = song.sections[ref.section]?.cues[ref.cue] ?? place.cue
    home[ref.cue] = { ...written, light: lights[i]! }
    cues.set(ref.section, home)
  }
  const sections: Record<string, Section> = {}
  for (const [key, section] of Object.entries(song.sections)) {
    sections[key] = { ...section, cues: cues.get(key) ?? {} }
  }
  const tiles: (readonly [number, number])[] = []
  const tileCues: Record<string, Cue> = {}
  for (const [i, kind] of motionKinds.entries()) {
    const at = (i + 1) * ROOM * BAR
    const span = tileSpan(lights[0]!, kind, bpm)
    tiles.push([timeline.length + at, timeline.length + at + span])
    tileCues[kind] = {
      track: TILES,
      at: ticks(at),
      length: ticks(ROOM * BAR),
      origin: ticks(0),
      light: tileLight(lights[0]!, kind, span),
    }
  }
  sections[TILES] = {
    name: 'Motions',
    bars: (motionKinds.length + 1) * ROOM,
    meters: [{ bar: 0, meter: { beats: 4, unit: 4 } }],
    tempo: [{ at: ticks(0), bpm }],
    vamp: false,
    cues: tileCues,
  }
  const tracks = Object.fromEntries(
    Object.entries(song.tracks).map(([key, track]) => [key, { ...track, muted: false }]),
  )
  const drawn = {
    ...song,
    sections,
    sectionOrder: [...song.sectionOrder, TILES],
    tracks: { ...tracks, [TILES]: { part: first.track.part, merge: 'cover' as const, muted: false } },
    trackOrder: [...song.trackOrder, TILES],
  }
  const end = Math.max(...chosen.map(({ place }) => place.at + place.length))
  return {
    show: { ...show, swatches, songs: { [id]: drawn } },
    song: id,
    cue: [first.place.at, end],
    tiles,
  }
}

/** Full level and no floor: what tells one motion from the other. */
function tileLight(light: Light, kind: (typeof motionKinds)[number], span: Ticks): Light {
  const { colours } = light
  return {
    level: 1,
    colours: colours.along === 'none' ? colours : { ...colours, length: span },
    motion: motionAs(kind, light.motion),
  }
}

function tileSpan(light: Light, kind: (typeof motionKinds)[number], bpm: number): Ticks {
  const { rate } = motionAs(kind, light.motion)
  const cycle = 'ticks' in rate ? rate.ticks : (bpm * 16) / rate.hz
  const cycles = kind === 'sustain' ? 1 : motionWords[kind].cycles
  return ticks(Math.round(Math.min(ROOM * BAR, Math.max(240, cycle * cycles))))
}
