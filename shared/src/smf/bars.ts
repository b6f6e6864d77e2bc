// The bars of a Standard MIDI File: where each starts on a song's ticks, and in what meter.

import { CodedError } from '../errors.ts'
import type { Meter } from '../show/song.ts'
import { ticksPerBar, ticksPerUnit } from '../time/meter.ts'
import { TICKS_PER_BEAT, type Ticks } from '../time/units.ts'
import type { SmfSong } from './read.ts'

const MAX_BARS = 9999
/** What rounding to the song's ticks may move, with room to spare. */
const NEAR = 1
const FOUR_FOUR: Meter = { beats: 4, unit: 4 }

export interface Bar {
  /** Song ticks (960 a quarter note) from the start. */
  readonly at: Ticks
  readonly meter: Meter
}

export interface Bars {
  /** At least one. */
  readonly bars: readonly Bar[]
  /** The end of the last bar. */
  readonly end: Ticks
  /** 0-based bars in which a time signature stands that could only begin with the bar after. */
  readonly late: readonly number[]
}

/** The song's tick nearest to a tick of the file. */
export const songTick = (smf: SmfSong, at: number): Ticks =>
  Math.round((at * TICKS_PER_BEAT) / smf.division) as Ticks

/**
 * Lays bars over the whole file. A time signature starts a bar; the bar it cuts short gets a meter of its own (two
 * quarters left of 4/4 become a bar of 2/4), or, where no meter fits it, stays whole.
 * @throws CodedError `smf.meter` for one that a song cannot have, `smf.tooLong` above 9,999 bars
 */
export function barsOf(smf: SmfSong, where: string): Bars {
  const changes = smf.meters.map(({ at, beats, unit }) => ({
    at: songTick(smf, at),
    meter: meterOf(beats, unit, where),
  }))
  const end = songTick(smf, smf.length)
  const bars: Bar[] = []
  const late: number[] = []
  let meter = FOUR_FOUR
  let at = 0
  let next = 0
  while (at < end - NEAR || bars.length === 0) {
    if (bars.length === MAX_BARS) {
      throw new CodedError('smf.tooLong', `the file has more than ${MAX_BARS} bars`, where)
    }
    for (; next < changes.length && changes[next]!.at <= at + NEAR; next++) meter = changes[next]!.meter
    const change = changes[next]
    let bar = meter
    if (change && change.at < end - NEAR && change.at < at + ticksPerBar(meter) - NEAR) {
      const rest = restMeter(change.at - at, meter)
      if (rest) bar = rest
      else late.push(bars.length)
    }
    bars.push({ at: at as Ticks, meter: bar })
    at += ticksPerBar(bar)
  }
  return { bars, end: at as Ticks, late }
}

function meterOf(beats: number, unit: number, where: string): Meter {
  if (beats > 64 || unit > 32) {
    throw new CodedError('smf.meter', `a song cannot have the meter ${beats}/${unit}`, where)
  }
  return { beats, unit: unit as Meter['unit'] }
}

/** The meter of a bar of `length` ticks in the unit of `meter`, or the next shorter one that fits; null if none does. */
function restMeter(length: number, meter: Meter): Meter | null {
  for (let unit = meter.unit; unit <= 32; unit = (unit * 2) as Meter['unit']) {
    const perUnit = ticksPerUnit({ beats: 1, unit })
    const beats = Math.round(length / perUnit)
    if (beats >= 1 && beats <= 64 && Math.abs(length - beats * perUnit) <= NEAR) return { beats, unit }
  }
  return null
}

/** The bar that starts nearest to a tick, or `bars.length` for the end; of two as near, the earlier. */
export function nearestBar({ bars, end }: Bars, at: Ticks): number {
  let low = 0
  let high = bars.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (bars[middle]!.at <= at) low = middle
    else high = middle - 1
  }
  const after = bars[low + 1]?.at ?? end
  return at - bars[low]!.at <= after - at ? low : low + 1
}
