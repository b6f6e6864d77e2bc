// The faulty sample: a show that can be read, and gives every kind of advice. Run it to write tests/samples/faulty.json.

import { writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { channelsOf } from '@glowchart/shared/rig/channels.ts'
import { RIG_FORMAT } from '@glowchart/shared/rig/schema.ts'
import { type Bundle, bundleText } from '@glowchart/shared/show/bundle.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import { SHOW_FORMAT } from '@glowchart/shared/show/schema.ts'

/** Ticks of a bar of 4/4: 2 s at 120 BPM. */
const BAR = 3840
/** Bars of each flashing and of the rest after it, longer than the second within which two are told as one. */
const FLASHING = 1
const REST = 1

const draw = { from: 'measured', amps: { red: 0.5, green: 0.5, blue: 0.5 } }
const size = { long: 1.2, across: 0.04 }
const place = { x: 0, y: 2, z: 0.2 }

const builds = {
  tube: { name: 'Tube', shape: 'tube', size, cells: 1, channels: channelsOf('rgb', 1), draw },
  bar: { name: 'Bar of four', shape: 'bar', size, cells: 4, channels: channelsOf('rgb', 4), draw },
}

const box = (name: string, address: number, channels: number, sockets: number) => ({
  name,
  decoder: { channels },
  universe: 1,
  address,
  sockets: Array.from({ length: sockets }, (_, i) => ({ id: `s${i + 1}`, label: `${i + 1}` })),
})

const boxes = {
  a: box('Box A', 1, 24, 8),
  // Overlaps Box A by five slots.
  // Its five tubes take 7.5 A of 80 % of 9 A.
  b: { ...box('Box B', 20, 24, 8), supply: { volts: 12, amps: 9 } },
  // Runs past slot 512.
  c: {
    ...box('Box C', 500, 24, 8),
    sockets: [
      { id: 's1', label: '1', fuse: 1 },
      { id: 's2', label: '2' },
    ],
  },
  // Fifteen outputs wanted of twelve.
  d: box('Box D', 60, 12, 5),
}

const tubes = Array.from({ length: 18 }, (_, i) => `t${i + 1}`)
const fixtures = {
  ...Object.fromEntries(
    tubes.map((id, i) => [id, { name: `Tube ${i + 1}`, build: 'tube', serial: `T-${i + 1}` }]),
  ),
  // Four cells in a socket for one.
  bar: { name: 'The bar', build: 'bar', serial: 'B-1' },
  t3: {
    name: 'Tube 3',
    build: 'tube',
    serial: 'T-3',
    faults: [{ at: '2031-05-04T19:30:00Z', what: 'Green stays out when it is warm.' }],
  },
}

const stands = (...ids: string[]) => ({
  place,
  sockets: Object.fromEntries(ids.map((fixture, i) => [`s${i + 1}`, { fixture, place }])),
})

const boxD = stands('t14', 't15', 't16', 't17', 'nobody')
const kit = {
  name: 'Everything wrong at once',
  stage: { width: 8, depth: 5, height: 3 },
  boxes: {
    a: stands('t1', 't2', 't3', 't4', 't5', 't6', 't7', 'bar'),
    // Tube 7 is in Box A already.
    b: stands('t7', 't8', 't9', 't10', 't11'),
    // Farther away than a cable of 6.1 m reaches; held under the 3 A that its tubes would take.
    c: {
      powerLimit: 2,
      ...stands('t12'),
      sockets: { s1: { fixture: 't12', place }, s2: { fixture: 't13', place: { x: 4, y: 5, z: 2 } } },
    },
    // A fixture and a socket that the rig does not have.
    d: { ...boxD, sockets: { ...boxD.sockets, s9: { fixture: 't18', place } } },
    // A box that it does not have.
    lent: stands(),
  },
  // The house has a limit on strobes: one section's is faster.
  venue: { strobes: 8 },
  guests: {
    // A build that it does not have.
    mystery: { name: 'Mystery guest', build: 'unheardOf', universe: 2, address: 1, place },
    // A fixture with one slot left of three.
    late: { name: 'Late guest', build: 'tube', universe: 2, address: 512, place },
  },
  parts: {
    pair: { fixtures: ['t1', 't2'] },
    // Tube 4 twice; Tube 18, which stands in no socket there is; one that nobody knows.
    rest: { fixtures: [...tubes.slice(2), 't4', 'bar', 'late', 'lost'] },
    empty: { fixtures: [] },
    spare: { fixtures: [] },
    hen: { fixtures: [], standIn: 'egg' },
    egg: { fixtures: [], standIn: 'hen' },
  },
}

const parts = {
  pair: { name: 'Pair' },
  rest: { name: 'The rest' },
  empty: { name: 'Nobody' },
  spare: { name: 'Spare' },
  hen: { name: 'Hen' },
  egg: { name: 'Egg' },
}

const sustain = { kind: 'sustain' }
const strobe = (hz: number, spread: number) => ({ kind: 'strobe', rate: { hz }, spread, duty: 0.5 })
const lit = (hex: string, motion: object) => ({
  level: 1,
  colours: { along: 'none', colour: { hex } },
  motion,
})
const cueOf = (track: string, bars: number, light: object) => ({ track, at: 0, length: bars * BAR, light })

/** At 5 flashes a second: everything; two lights of twenty over a steady stage; the same two in turn. */
const flashings: Record<string, (hex: string) => Record<string, object>> = {
  stage: hex => ({
    pair: cueOf('pair', FLASHING, lit(hex, strobe(5, 0))),
    rest: cueOf('rest', FLASHING, lit(hex, strobe(5, 0))),
  }),
  part: hex => ({
    pair: cueOf('pair', FLASHING, lit(hex, strobe(5, 0))),
    rest: cueOf('rest', FLASHING + REST, lit('#ffffff', sustain)),
  }),
  fixture: hex => ({
    pair: cueOf('pair', FLASHING, lit(hex, strobe(5, 0.5))),
    rest: cueOf('rest', FLASHING + REST, lit('#ffffff', sustain)),
  }),
}
/** White flashes by luminance, red by chromaticity, blue only by its own channel. */
const colours = { white: '#ffffff', red: '#ff0000', blue: '#0000ff' }

const flashSections = Object.fromEntries(
  Object.entries(flashings).flatMap(([scope, cues]) =>
    Object.entries(colours).map(([colour, hex]) => [
      `${scope}-${colour}`,
      { name: `${scope}, ${colour}`, bars: FLASHING + REST, cues: cues(hex) },
    ]),
  ),
)

const sections = {
  ...flashSections,
  // Three flashes a second are within the limit, but go on for eight seconds.
  long: { name: 'long', bars: 5, cues: { rest: cueOf('rest', 4, lit('#ffffff', strobe(3, 0))) } },
  held: { name: 'held', bars: 2, cues: { rest: cueOf('rest', 1, lit('#ffffff', strobe(10, 0))) } },
  dark: {
    name: 'dark',
    bars: 2,
    cues: {
      empty: cueOf('empty', 2, lit('#ffffff', sustain)),
      hen: cueOf('hen', 2, lit('#ffffff', sustain)),
    },
  },
}

const tracks = Object.fromEntries(['pair', 'rest', 'empty', 'hen'].map(part => [part, { part }]))
const song = {
  title: 'A Warning to Ironmongers',
  bpm: 120,
  meter: { beats: 4, unit: 4 },
  sections,
  sectionOrder: Object.keys(sections),
  tracks,
  trackOrder: Object.keys(tracks),
}

/** The sample; valid by every schema. */
export const faultyBundle = (): Bundle => ({
  rig: parseRig(
    { format: RIG_FORMAT, version: 2, id: 'shed', name: 'The shed after the flood', builds, boxes, fixtures },
    'faulty (rig)',
  ),
  show: parseShow(
    {
      format: SHOW_FORMAT,
      version: 2,
      id: 'faulty',
      name: 'The Unsupervised Ironmongers',
      rig: 'shed',
      tonight: 'kit',
      kits: { kit },
      parts,
      partOrder: Object.keys(parts),
      swatches: {},
      looks: {},
      songs: { song },
      songOrder: ['song'],
      setLists: {},
      output: {},
    },
    'faulty (show)',
  ),
})

export const faultyFile = fileURLToPath(new URL('../samples/faulty.json', import.meta.url))

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(faultyFile, bundleText(faultyBundle()))
