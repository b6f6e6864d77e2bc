// A long show for measuring: one song of many sections full of cues, on as many fixtures as wanted. The same every time.

import { directions, motionKinds } from '@glowchart/shared/light/schema.ts'
import { channelsOf } from '@glowchart/shared/rig/channels.ts'
import { RIG_FORMAT, RIG_VERSION } from '@glowchart/shared/rig/schema.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { SHOW_FORMAT, SHOW_VERSION } from '@glowchart/shared/show/schema.ts'
import { random } from './random.ts'

const BAR = 3840
const BARS = 4
const PARTS = ['floor', 'wings', 'shelf', 'arch']
const COLOURS = ['#ff7a3c', '#3c7aff', '#ffe0b0', '#c02060', '#20a080', '#f4f4ff']

/** The song's id, and the section, the cue and its track that measurements edit. */
export const LONG = { song: 'long', section: 's0', cue: 'c0' }

export interface LongShow {
  sections: number
  cues: number
  fixtures: number
}

/** Two tracks a part; the cues of a section spread over them, every tenth from a look, every fourth with fades. */
export function longShow({ sections, cues, fixtures }: LongShow): Documents {
  const next = random(20_311)
  const pick = <T>(items: readonly T[]): T => items[Math.floor(next() * items.length)]!
  const fixtureIds = Array.from({ length: fixtures }, (_, i) => `f${i}`)
  const partOf = (part: number) => fixtureIds.filter((_, i) => i % PARTS.length === part)
  const perUniverse = Math.floor(512 / 3)
  const tracks = PARTS.flatMap(part => [`${part}-1`, `${part}-2`])
  const swatch = () => ({ swatch: `w${Math.floor(next() * COLOURS.length)}` })
  const light = () => ({
    level: Math.round(40 + 60 * next()) / 100,
    colours:
      next() < 0.5
        ? { along: 'none', colour: swatch() }
        : {
            along: pick(['part', 'time', 'motion']),
            stops: [
              { at: 0, colour: swatch() },
              { at: 1, colour: swatch() },
            ],
          },
    motion: {
      kind: pick(motionKinds),
      rate: { ticks: pick([480, 960, 1920, 3840]) },
      direction: pick(directions),
      duty: 0.5,
      shape: 0.5,
    },
  })
  let made = 0
  const section = (n: number) => {
    const count = Math.floor((cues * (n + 1)) / sections) - Math.floor((cues * n) / sections)
    // The cues of a track follow each other, so that each is met alone or in a crossfade as songs have them.
    const length = (BARS * BAR * tracks.length) / count
    const cue = (i: number) => ({
      track: tracks[i % tracks.length],
      at: Math.floor(i / tracks.length) * Math.floor(length),
      length: Math.floor(length * (i % 7 === 0 ? 1.2 : 0.95)),
      ...(i % 4 === 0 && { fadeIn: { length: 240 }, fadeOut: { length: 480 } }),
      light: i % 10 === 9 ? { look: 'wash' } : light(),
    })
    const entries = Array.from({ length: count }, (_, i) => [`c${made++}`, cue(i)])
    return { name: `Section ${n + 1}`, bars: BARS, cues: Object.fromEntries(entries) }
  }
  const ids = Array.from({ length: sections }, (_, n) => `s${n}`)
  const rig = {
    format: RIG_FORMAT,
    version: RIG_VERSION,
    id: 'barn',
    name: 'Barn',
    builds: {
      tube: {
        name: 'Tube',
        shape: 'tube',
        size: { long: 1.2, across: 0.04 },
        cells: 1,
        channels: channelsOf('rgb', 1),
      },
    },
    boxes: {},
    fixtures: {},
  }
  const guests = fixtureIds.map((name, i) => [
    name,
    {
      name,
      build: 'tube',
      universe: 1 + Math.floor(i / perUniverse),
      address: 1 + (i % perUniverse) * 3,
      place: { x: ((i + 0.5) / fixtures) * 8 - 4, y: 0, z: 1 },
    },
  ])
  const show = {
    format: SHOW_FORMAT,
    version: SHOW_VERSION,
    id: 'long-show',
    name: 'The Long Barn',
    rig: rig.id,
    tonight: 'barn',
    kits: {
      barn: {
        name: 'Barn',
        stage: { width: 10, depth: 6, height: 4 },
        boxes: {},
        guests: Object.fromEntries(guests),
        parts: Object.fromEntries(PARTS.map((part, i) => [part, { fixtures: partOf(i) }])),
      },
    },
    parts: Object.fromEntries(PARTS.map(part => [part, { name: part[0]!.toUpperCase() + part.slice(1) }])),
    partOrder: PARTS,
    swatches: Object.fromEntries(COLOURS.map((hex, i) => [`w${i}`, { name: `Colour ${i + 1}`, hex }])),
    looks: { wash: { name: 'Wash', parts: Object.fromEntries(PARTS.map(part => [part, light()])) } },
    songs: {
      [LONG.song]: {
        title: 'A Long Way Round',
        bpm: 120,
        meter: { beats: 4, unit: 4 },
        sections: Object.fromEntries(ids.map((id, n) => [id, section(n)])),
        sectionOrder: ids,
        tracks: Object.fromEntries(
          tracks.map((track, i) => [track, { part: PARTS[i >> 1], merge: i % 2 === 0 ? 'cover' : 'add' }]),
        ),
        trackOrder: tracks,
      },
    },
    songOrder: [LONG.song],
    setLists: {},
    output: {},
  }
  return { rig: parseRig(rig, 'long show (rig)'), show: parseShow(show, 'long show') }
}
