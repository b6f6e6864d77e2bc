// How fast a motion may go: note values that fit the meter, and slow enough at the tempo that nothing flashes.

import type { MotionKind } from '../../light/schema.ts'
import { ticksPerBar, ticksPerUnit } from '../../time/meter.ts'
import { bpmAt } from '../../time/tempo.ts'
import type { Timeline } from '../../time/timeline.ts'
import { TICKS_PER_BEAT, type Ticks } from '../../time/units.ts'
import type { Meter } from '../song.ts'
import type { Movement } from './moods.ts'

/**
 * Least seconds of a cycle. WCAG 2.2 SC 2.3.1 allows 3 flashes in any second, and ITU-R BT.1702-3 takes flashes 0.36 s
 * apart for separate ones. A hit a cycle stays below both, with room for the change at a section's join; a sway passes a
 * light twice a cycle, and where lights of a part take turns, their mean may change several times.
 */
const leastSeconds: Readonly<Record<MotionKind, number>> = {
  sustain: 0,
  pulse: 0.46,
  strobe: 0.46,
  scatter: 0.46,
  swell: 1.2,
  sway: 2.6,
  answer: 1.4,
  chase: 1.4,
  ring: 1.6,
  drift: 2,
  filament: 2,
  cascade: 3.2,
}

/** The fastest tempo a section's cues are played at, in the section, its copies, and a bar around them. */
export function fastestBpmOf(timeline: Timeline, section: string): number {
  let fastest = 0
  for (const { source, start, end, bars } of timeline.sections) {
    if (source !== section) continue
    const bar = (end - start) / bars
    const [from, to] = [(start - bar) as Ticks, (end + bar) as Ticks]
    const inside = timeline.tempo.filter(segment => segment.at > from && segment.at < to)
    // A glide's fastest moment is one of its ends: where it begins, or just before the segment after it.
    const ends = inside.flatMap(({ at, bpm }) => [bpm, bpmAt(timeline.tempo, (at - 1) as Ticks)])
    fastest = Math.max(fastest, bpmAt(timeline.tempo, from), bpmAt(timeline.tempo, to), ...ends)
  }
  return fastest
}

/** The note value of a movement's cycle, in ticks: what it asks for, or the next longer one that is slow enough. */
export function cycleOf({ kind, cycle, spread }: Movement, meter: Meter, bpm: number): Ticks {
  const bar = ticksPerBar(meter)
  // Hits that come one light after the other fall along the part as a cascade does.
  const least = leastSeconds[kind === 'pulse' && spread > 0 ? 'cascade' : kind]
  const wished = cycle === 'beat' ? beatOf(meter) : cycle * bar
  const secondsOf = (length: number) => (60 * length) / (TICKS_PER_BEAT * bpm)
  const fits = (length: number) => length >= wished && secondsOf(length) >= least
  const unit = ticksPerUnit(meter)
  for (let units = 1; units < meter.beats; units++) {
    if (meter.beats % units === 0 && fits(units * unit)) return (units * unit) as Ticks
  }
  let length: number = bar
  while (!fits(length)) length *= 2
  return length as Ticks
}

/** A beat as it is felt: three units in a compound meter such as 6/8 (common practice, no source), else one. */
function beatOf(meter: Meter): number {
  const isCompound = meter.unit >= 8 && meter.beats > 3 && meter.beats % 3 === 0
  return (isCompound ? 3 : 1) * ticksPerUnit(meter)
}
