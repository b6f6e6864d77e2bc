// The meter map: from bars and beats to ticks and back, in any meter.

import type { Meter } from '../show/song.ts'
import { TICKS_PER_BEAT, type Ticks } from './units.ts'

/** Bars of one meter, from `bar` to the next segment's. */
export interface MeterSegment {
  /** 0-based, from the song's first bar. */
  readonly bar: number
  readonly at: Ticks
  readonly meter: Meter
}

/** Segments in order, the first at bar 0; never empty. Plain data. */
export type MeterMap = readonly MeterSegment[]

/** A meter that holds from a bar (0-based, from the song's first) until the next change. */
export interface MeterChange {
  readonly bar: number
  readonly meter: Meter
}

/** A place in bars: 0-based bar, 0-based beat of it (a beat is the meter's unit), and ticks into the beat. */
export interface BarBeat {
  readonly bar: number
  readonly beat: number
  readonly tick: Ticks
}

/** Builds the map. Of several changes in one bar, the last one counts. */
export function meterMap(first: Meter, changes: readonly MeterChange[]): MeterMap {
  const segments: MeterSegment[] = [{ bar: 0, at: 0 as Ticks, meter: first }]
  for (const { bar, meter } of [...changes].sort((a, b) => a.bar - b.bar)) {
    const at = barStart(segments, bar)
    if (segments.at(-1)!.bar === bar) segments.pop()
    segments.push({ bar, at, meter })
  }
  return segments
}

/** Ticks of one beat: the meter's unit. A whole number for every unit from 1 to 32. */
export const ticksPerUnit = (meter: Meter): Ticks => ((4 * TICKS_PER_BEAT) / meter.unit) as Ticks

/** Ticks of one bar. */
export const ticksPerBar = (meter: Meter): Ticks => (meter.beats * ticksPerUnit(meter)) as Ticks

/** The tick on which a bar (0-based, a whole number) starts. Before bar 0 the first meter goes on. */
export function barStart(map: MeterMap, bar: number): Ticks {
  let i = map.length - 1
  while (i > 0 && map[i]!.bar > bar) i--
  const segment = map[i]!
  return (segment.at + (bar - segment.bar) * ticksPerBar(segment.meter)) as Ticks
}

/** The bar, the beat and the ticks into it at a tick; a fraction stays in `tick`. Before bar 0, bars are negative. */
export function barBeatAt(map: MeterMap, ticks: Ticks): BarBeat {
  let i = map.length - 1
  while (i > 0 && map[i]!.at > ticks) i--
  const segment = map[i]!
  const perBar = ticksPerBar(segment.meter)
  const perBeat = ticksPerUnit(segment.meter)
  const bars = Math.floor((ticks - segment.at) / perBar)
  const intoBar = ticks - segment.at - bars * perBar
  const beat = Math.floor(intoBar / perBeat)
  return { bar: segment.bar + bars, beat, tick: (intoBar - beat * perBeat) as Ticks }
}
