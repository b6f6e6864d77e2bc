// Where a metronome clicks: bars, beats, and in meters of uneven beats the units between.

import type { Meter } from '../show/song.ts'
import { barBeatAt, barStart, type MeterMap, ticksPerUnit } from '../time/meter.ts'
import { type Ticks, ticks } from '../time/units.ts'

export interface Click {
  readonly at: Ticks
  /** The first of a bar; a beat; or a unit between the beats of an uneven meter, which one must hear to count. */
  readonly accent: 'bar' | 'beat' | 'unit'
}

/**
 * The units of a bar on which a beat begins, from 0. Simple meters beat every unit; compound ones (6, 9, 12… of eighths
 * or shorter) every third; the others of five or more (5/8, 7/8…) in twos with a three at the end: 7/8 is 2 + 2 + 3.
 * The grouping of uneven meters is common practice, no source.
 */
export function beatsOf({ beats, unit }: Meter): number[] {
  const all = Array.from({ length: beats }, (_, n) => n)
  if (unit < 8 || beats < 5) return all
  if (beats % 3 === 0) return all.filter(n => n % 3 === 0)
  return beats % 2 === 0 ? all.filter(n => n % 2 === 0) : all.filter(n => n % 2 === 0 && n < beats - 1)
}

/** How a unit of a bar clicks; null where it does not. */
function accentOf(meter: Meter, unit: number): Click['accent'] | null {
  if (unit === 0) return 'bar'
  const beats = beatsOf(meter)
  if (beats.includes(unit)) return 'beat'
  const isEven = meter.beats % beats.length === 0
  return isEven ? null : 'unit'
}

/** The clicks of written ticks [from, to), in order. */
export function clicksIn(meters: MeterMap, from: Ticks, to: Ticks): Click[] {
  const clicks: Click[] = []
  for (let { bar } = barBeatAt(meters, from); ; bar++) {
    const start = barStart(meters, bar)
    if (start >= to) return clicks
    const { meter } = meters.findLast(segment => segment.at <= start) ?? meters[0]!
    for (let unit = 0; unit < meter.beats; unit++) {
      const at = start + unit * ticksPerUnit(meter)
      const accent = at >= from && at < to ? accentOf(meter, unit) : null
      if (accent) clicks.push({ at: ticks(at), accent })
    }
  }
}

/** Clicks that count so many bars in before a written tick, as ticks before it (negative), in the meter there. */
export function countIn(meters: MeterMap, at: Ticks, bars: number): Click[] {
  const { meter } = meters.findLast(segment => segment.at <= at) ?? meters[0]!
  const length = bars * meter.beats * ticksPerUnit(meter)
  const flat: MeterMap = [{ bar: 0, at: ticks(0), meter }]
  return clicksIn(flat, ticks(0), ticks(length)).map(click => ({ ...click, at: ticks(click.at - length) }))
}
