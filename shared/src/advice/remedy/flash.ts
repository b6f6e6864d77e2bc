// Remedies of flashing light: slower in note values, steady at the same brightness, or the venue's limit on strobes.

import { lightnessOf, luminanceOf } from '../../light/lightness.ts'
import type { Light } from '../../light/schema.ts'
import { meanTables } from '../../render/motion/mean.ts'
import type { Show } from '../../show/schema.ts'
import { TICKS_PER_BEAT } from '../../time/units.ts'
import type { Advice } from '../advice.ts'
import { SEPARATE_RATE, screenLimit } from '../flash/limits.ts'
import { cyclesPerSecond, type MovingCue, movingCues } from '../flash/moving.ts'
import { listText } from '../words.ts'
import { cuesText, relight } from './lights.ts'
import type { Remedy } from './remedy.ts'

/** Note values a motion may be slowed to, fastest first, in ticks of a cycle. */
const notes = [
  { name: '1/32', ticks: TICKS_PER_BEAT / 8 },
  { name: '1/16', ticks: TICKS_PER_BEAT / 4 },
  { name: '1/8 triplet', ticks: TICKS_PER_BEAT / 3 },
  { name: '1/8', ticks: TICKS_PER_BEAT / 2 },
  { name: '1/4', ticks: TICKS_PER_BEAT },
  { name: '1/2', ticks: 2 * TICKS_PER_BEAT },
  { name: 'whole', ticks: 4 * TICKS_PER_BEAT },
  { name: 'double whole', ticks: 8 * TICKS_PER_BEAT },
]

const SAME = 1e-6

export function flashRemedies(show: Show, kit: string, advice: Advice): Remedy[] {
  const { song, cues = [] } = advice.place
  if ((advice.kind !== 'fastFlashes' && advice.kind !== 'longFlashing') || song === undefined) return []
  const behind = behindIt(movingCues(show, song, cues))
  if (behind.length === 0) return []
  const most = advice.kind === 'fastFlashes' ? screenLimit.flashes : SEPARATE_RATE
  // Several motions out of step flash more often together than each of them: all are slowed in proportion.
  const share = most / Math.max(most, advice.flashes ?? most)
  return [
    ...slower(show, song, behind, cue => Math.min(most, cue.rate * share)),
    steady(show, song, behind),
    ...(advice.kind === 'fastFlashes' ? limit(show, kit, behind) : []),
  ]
}

/** A strobe that tonight's limit holds: slow enough to be let through, and within 3 a second. */
export function heldRemedies(show: Show, kit: string, advice: Advice): Remedy[] {
  const { song, cues = [] } = advice.place
  const allowed = show.kits[kit]!.venue?.strobes
  if (advice.kind !== 'strobeHeld' || song === undefined || typeof allowed !== 'number') return []
  const most = Math.min(allowed, screenLimit.flashes)
  return slower(show, song, movingCues(show, song, cues), () => most)
}

/** Those faster than the limit by themselves; where none is, all that move more than once in two seconds. */
function behindIt(moving: readonly MovingCue[]): readonly MovingCue[] {
  const fast = moving.filter(({ rate }) => rate > screenLimit.flashes * (1 + SAME))
  return fast.length > 0 ? fast : moving.filter(({ rate }) => rate > 0.5)
}

/** All of them in the fastest note value that comes round no more than `most` times a second. */
function slower(
  show: Show,
  song: string,
  behind: readonly MovingCue[],
  most: (cue: MovingCue) => number,
): Remedy[] {
  const slowed = behind.flatMap(cue => {
    const note = notes.find(
      ({ ticks }) => (cue.bpm / 60) * (TICKS_PER_BEAT / ticks) <= most(cue) * (1 + SAME),
    )
    if (!note) return []
    const motion = { ...cue.light.motion, rate: { ticks: note.ticks } } as Light['motion']
    return [{ ref: cue.ref, note: note.name, bpm: cue.bpm, light: { ...cue.light, motion } }]
  })
  if (slowed.length === 0 || slowed.length < behind.length) return []
  const { who, freed } = cuesText(
    show,
    song,
    slowed.map(({ ref }) => ref),
  )
  const names = listText([...new Set(slowed.map(({ note }) => note))])
  const fastest = slowed.reduce((a, b) => (rateOf(b) > rateOf(a) ? b : a))
  const rate = `${Number(rateOf(fastest).toFixed(2))} a second at ${Math.round(fastest.bpm)} BPM`
  return [
    {
      label: `Slow ${who} to ${names} notes (${rate})${freed}`,
      says: `Slow ${who} to ${names} notes`,
      edits: relight(song, slowed),
    },
  ]
}

const rateOf = ({ light, bpm }: { light: Light; bpm: number }): number => cyclesPerSecond(light.motion, bpm)

function steady(show: Show, song: string, behind: readonly MovingCue[]): Remedy {
  const { who, freed } = cuesText(
    show,
    song,
    behind.map(({ ref }) => ref),
  )
  return {
    label: `Hold ${who} steady, as bright as ${behind.length === 1 ? 'its' : 'their'} mean${freed}`,
    says: `Hold ${who} steady`,
    edits: relight(
      song,
      behind.map(({ ref, light }) => ({ ref, light: atItsMean(light) })),
    ),
  }
}

const meanOf = meanTables()

/** The light without its motion, as bright as its mean over a cycle. */
function atItsMean(light: Light): Light {
  const { level, motion } = light
  const table = meanOf(motion)
  const mean = (value: number): number => {
    if (table.length === 0) return value
    let sum = 0
    for (let i = 0; i < table.length; i += 2) {
      sum += luminanceOf(value * (motion.floor + (1 - motion.floor) * table[i]!)) * table[i + 1]!
    }
    return Math.round(lightnessOf(sum) * 10_000) / 10_000
  }
  return {
    ...light,
    level: typeof level === 'number' ? mean(level) : level.map(p => ({ ...p, level: mean(p.level) })),
    motion: { ...motion, kind: 'sustain' },
  }
}

/** Where strobes alone are behind it, and none is held so far. */
function limit(show: Show, kit: string, behind: readonly MovingCue[]): Remedy[] {
  const { flashes } = screenLimit
  const armed = show.kits[kit]!.venue?.strobes
  const isHeld = armed === 'none' || (armed !== undefined && armed <= flashes)
  const isStrobe = ({ light, rate }: MovingCue) =>
    light.motion.kind === 'strobe' && rate > flashes * (1 + SAME)
  if (isHeld || !behind.every(isStrobe)) return []
  return [
    {
      label: `${armed === undefined ? 'Arm' : 'Lower'} tonight’s strobe limit ${armed === undefined ? 'at' : 'to'} ${flashes} flashes/s, for every song`,
      says: `Strobes at most ${flashes} flashes a second tonight`,
      edits: [['setVenue', { kit, strobes: flashes }]],
    },
  ]
}
