// Shows for the renderer's tests: a row of RGB fixtures with addresses of their own, one song, the cues a test gives.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { type Rig, rigSchema } from '@glowchart/shared/rig/schema.ts'
import { type Kit, type Show, showSchema } from '@glowchart/shared/show/schema.ts'

/** A light as a test writes it; what is left out is as the schema or this file has it. */
interface LightInput {
  level?: number | { at: number; level: number }[]
  colours?: unknown
  motion?: Record<string, unknown>
}

export interface CueInput extends LightInput {
  track?: string
  at: number
  length: number
  origin?: number
  fadeIn?: { length: number; curve?: string; cut?: number }
  fadeOut?: { length: number; curve?: string; cut?: number }
  look?: string
}

export interface ShowInput {
  fixtures?: number
  cells?: number
  cyclic?: boolean
  bpm?: number
  bars?: number
  tempo?: { at: number; bpm: number; glide?: number }[]
  tracks?: { merge?: string; part?: string; muted?: boolean }[]
  cues?: Record<string, CueInput>
  looks?: Record<string, Record<string, LightInput>>
  /** Further sections, after the one with the cues. */
  sections?: Record<string, unknown>
  /** Further parts, by the fixtures they have. */
  parts?: Record<string, { fixtures: number[]; cyclic?: boolean }>
}

const WHITE = { along: 'none', colour: { hex: '#ffffff' } }
const fixtureName = (i: number): string => `f${i}`

function light({ level = 1, colours = WHITE, motion = {} }: LightInput) {
  return { level, colours, motion: { kind: 'sustain', ...motion } }
}

/** A rig and a show around a song "song", played on the kit "kit" by the part "part" on the tracks "t0", "t1"… */
export function smallShow(input: ShowInput): { rig: Rig; show: Show; kit: Kit } {
  const { fixtures = 16, cells = 1, bars = 4, bpm = 120 } = input
  const perUniverse = Math.floor(512 / (3 * cells))
  const place = { x: 0, y: 0, z: 1 }
  const channels = Array.from({ length: cells }, (_, cell) =>
    ['red', 'green', 'blue'].map(does => ({ does, cell })),
  ).flat()
  const names = Array.from({ length: fixtures }, (_, i) => fixtureName(i))
  const guests = names.map((name, i) => [
    name,
    {
      name,
      build: 'lamp',
      universe: 1 + Math.floor(i / perUniverse),
      address: 1 + (i % perUniverse) * 3 * cells,
      place,
    },
  ])
  const tracks = input.tracks ?? [{}]
  const track = (i: number) => `t${i}`
  const cue = ({ track = 't0', look, level, colours, motion, ...rest }: CueInput) => ({
    track,
    ...rest,
    light: look === undefined ? light({ level, colours, motion } as LightInput) : { look },
  })
  const extra = Object.entries(input.parts ?? {})
  const rig = rigSchema.parse({
    format: 'glowchart-rig',
    version: 2,
    id: 'rig',
    name: 'Shed',
    builds: {
      lamp: { name: 'Lamp', shape: 'bulb', size: { long: 0.2, across: 0.2 }, cells, channels },
    },
    boxes: {},
    fixtures: {},
  })
  const show = showSchema.parse({
    format: 'glowchart-show',
    version: 2,
    id: 'show',
    name: 'The Tin Umbrellas',
    rig: 'rig',
    tonight: 'kit',
    kits: {
      kit: {
        name: 'Kit',
        stage: { width: 8, depth: 4, height: 4 },
        boxes: {},
        guests: Object.fromEntries(guests),
        parts: {
          part: { fixtures: names, cyclic: input.cyclic ?? false },
          ...Object.fromEntries(
            extra.map(([id, p]) => [id, { ...p, fixtures: p.fixtures.map(fixtureName) }]),
          ),
        },
      },
    },
    parts: { part: { name: 'Part' }, ...Object.fromEntries(extra.map(([id]) => [id, { name: id }])) },
    partOrder: ['part', ...extra.map(([id]) => id)],
    swatches: { rust: { name: 'Rust', hex: '#c04010' }, moss: { name: 'Moss', hex: '#40a030' } },
    looks: Object.fromEntries(
      Object.entries(input.looks ?? {}).map(([id, parts]) => [
        id,
        { name: id, parts: Object.fromEntries(Object.entries(parts).map(([part, l]) => [part, light(l)])) },
      ]),
    ),
    songs: {
      song: {
        title: 'Song',
        bpm,
        meter: { beats: 4, unit: 4 },
        sections: {
          a: {
            name: 'A',
            bars,
            tempo: input.tempo ?? [],
            cues: Object.fromEntries(Object.entries(input.cues ?? {}).map(([id, c]) => [id, cue(c)])),
          },
          ...(input.sections ?? {}),
        },
        sectionOrder: ['a', ...Object.keys(input.sections ?? {})],
        tracks: Object.fromEntries(tracks.map((t, i) => [track(i), { part: 'part', ...t }])),
        trackOrder: tracks.map((_, i) => track(i)),
      },
    },
    songOrder: ['song'],
    setLists: {},
    output: {},
  })
  return { rig, show, kit: show.kits.kit! }
}

export function compiledSmall(input: ShowInput): CompiledSong {
  const { rig, show } = smallShow(input)
  return compileSong(rig, show, 'kit', 'song')
}
