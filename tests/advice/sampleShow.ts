// An invented show for the tests of advice: sixteen lights on two boxes, two parts, one song of twelve bars at 120 BPM.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { SHOW_FORMAT, type Show, showSchema } from '@glowchart/shared/show/schema.ts'
import { sampleRig } from '../rig/sampleRig.ts'

const BAR = 3840
const eights = Array<number>(8).fill(3)
const steady = {
  level: 1,
  colours: { along: 'none', colour: { hex: '#ffffff' } },
  motion: { kind: 'sustain' },
}

/** Fixtures t0…t7 are “High tubes”, t8…t15 “Low tubes”; the song's cues: high in bars 1 to 4, low in 5 to 8. */
export function sampleShow(): { rig: Rig; show: Show } {
  const { rig, kit } = sampleRig([
    { outputs: 24, universe: 1, address: 1, sockets: eights },
    { outputs: 24, universe: 1, address: 25, sockets: eights },
  ])
  const ids = Object.keys(rig.fixtures)
  kit.parts = {
    high: { fixtures: ids.slice(0, 8), cyclic: false },
    low: { fixtures: ids.slice(8), cyclic: false },
  }
  const show = showSchema.parse({
    format: SHOW_FORMAT,
    version: 2,
    id: 'show',
    name: 'The Reluctant Gazebos',
    rig: 'rig',
    tonight: 'kit',
    kits: { kit },
    parts: { high: { name: 'High tubes' }, low: { name: 'Low tubes' } },
    partOrder: ['high', 'low'],
    swatches: {},
    looks: {},
    songs: {
      song: {
        title: 'Marmalade Weather',
        bpm: 120,
        meter: { beats: 4, unit: 4 },
        sections: {
          verse: {
            name: 'Verse',
            bars: 8,
            cues: {
              first: { track: 'high', at: 0, length: 4 * BAR, light: steady },
              second: { track: 'low', at: 4 * BAR, length: 4 * BAR, light: steady },
            },
          },
          end: { name: 'End', bars: 4, cues: {} },
        },
        sectionOrder: ['verse', 'end'],
        tracks: { high: { part: 'high' }, low: { part: 'low' } },
        trackOrder: ['high', 'low'],
      },
    },
    songOrder: ['song'],
    setLists: {},
    output: {},
  })
  return { rig, show }
}
