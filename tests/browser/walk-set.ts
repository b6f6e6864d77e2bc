// A short set made to be walked through in seconds: still light in every section, so that the wire tells where it is.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { compileLook, compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive, type Live, patchedLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { Action } from '@glowchart/shared/trigger/action.ts'

const BAR = 3840
/** The part that all of it is played on, and its place in the chart's order from 1: its digit on the keyboard. */
export const PART = 'tubes'
export const DIGIT = '4'

const lit = (hex: string, motion: object = { kind: 'sustain' }) => ({
  level: 0.8,
  colours: { along: 'none', colour: { hex } },
  motion,
})

type Section = [id: string, bars: number, hex: string, more?: { vamp?: boolean; motion?: object }]

function songOf(title: string, bpm: number, sections: Section[], more: object = {}) {
  return {
    title,
    bpm,
    meter: { beats: 4, unit: 4 },
    key: 'E minor',
    sections: Object.fromEntries(
      sections.map(([id, bars, hex, { vamp = false, motion } = {}]) => [
        id,
        {
          name: id,
          bars,
          vamp,
          cues: { [`${id}-light`]: { track: PART, at: 0, length: bars * BAR, light: lit(hex, motion) } },
        },
      ]),
    ),
    sectionOrder: sections.map(([id]) => id),
    tracks: { [PART]: { part: PART } },
    trackOrder: [PART],
    ...more,
  }
}

const look = (id: string, name: string, hex: string) =>
  ['addLook', { look: id, name, parts: { [PART]: lit(hex) } }] as const

const strobe = { kind: 'strobe', rate: { hz: 5 }, spread: 0, duty: 0.5 }

/** What each note of the pedal board on channel 16 asks for. */
export const notes = {
  back: [60, { do: 'back' }],
  stop: [61, { do: 'stop' }],
  next: [62, { do: 'next' }],
  blackout: [63, { do: 'blackout' }],
  repeat: [64, { do: 'repeat' }],
  house: [65, { do: 'house' }],
  strobeStop: [66, { do: 'strobeStop' }],
  tapTempo: [67, { do: 'tapTempo' }],
  nudgeOn: [68, { do: 'nudgeOn' }],
  bump: [69, { do: 'bump', part: PART }],
  grandDown: [70, { do: 'master', by: -0.1 }],
  grandUp: [71, { do: 'master', by: 0.1 }],
  partDown: [72, { do: 'master', by: -0.1, part: PART }],
  partUp: [73, { do: 'master', by: 0.1, part: PART }],
  sectionBack: [74, { do: 'sectionBack' }],
  songOn: [75, { do: 'songOn' }],
} as const satisfies Record<string, readonly [number, Action]>

const triggers = Object.values(notes).map(([note, action]) => ({
  input: { from: 'note', channel: 16, note },
  action,
}))

/** The edits that make it, in order. */
export const edits = [
  look('doorsOpen', 'Doors open', '#ff8040'),
  look('tuning', 'Tuning', '#4080ff'),
  look('goodNight', 'Good night', '#ffe0b0'),
  look('workLight', 'Work light', '#ffffff'),
  [
    'takeSong',
    {
      song: 'kettle',
      value: songOf('Kettle Weather', 240, [
        ['Steam', 2, '#ff0000'],
        ['Whistle', 1, '#00ff00', { vamp: true }],
        ['Pour', 3, '#0000ff'],
        ['Lid', 3, '#ffffff', { motion: strobe }],
      ]),
      before: null,
    },
  ],
  [
    'takeSong',
    {
      song: 'ladder',
      value: songOf(
        'Ladder Lamps',
        120,
        [
          ['Ground', 2, '#ff00ff'],
          ['Rung', 2, '#00ffff'],
          ['Top', 1, '#ffff00'],
        ],
        { stepped: true },
      ),
      before: null,
    },
  ],
  ['takeSong', { song: 'cork', value: songOf('Short Cork', 240, [['Cork', 2, '#80ff00']]), before: null }],
  [
    'setSetList',
    {
      list: 'walked',
      value: {
        name: 'A set to walk through',
        songs: [{ song: 'kettle' }, { song: 'ladder', before: 'tuning' }, { song: 'cork' }],
        walkIn: 'doorsOpen',
        end: 'goodNight',
        house: 'workLight',
      },
    },
  ],
  ['setTonightList', { list: 'walked' }],
  ['setTriggers', { triggers }],
] as const

let made = demoBundle()
for (const [name, args] of edits) made = { ...made, ...applyEdit(made, name, args as never).next }
const { rig, show } = made
const plan = levelPlan(rig, show.kits[show.tonight]!)

/** The bytes that the wire should carry, as text: of a look, or of a song's section, under the hands given. */
export function bytesOf(of: { look: string } | { song: string; section: string }, hands: Partial<Live> = {}) {
  const compiled =
    'look' in of
      ? compileLook(rig, show, show.tonight, of.look)
      : compileSong(rig, show, show.tonight, of.song)
  const at =
    'look' in of ? 0 : compiled.timeline.sections.find(section => section.id === of.section)!.start + 480
  const live = patchedLive(freshLive(), hands)
  const light = new Float32Array(compiled.stage.cells * 3)
  renderLight(compiled, ticks(at), ticks(at + 48), live, renderScratch(compiled), light)
  applyLimits(compiled, live, light)
  const levels = new Uint8Array(plan.universes.length * 512)
  toLevels(plan, light, levels)
  return Buffer.from(levels).toString('hex')
}

export const DARK = Buffer.alloc(plan.universes.length * 512).toString('hex')
