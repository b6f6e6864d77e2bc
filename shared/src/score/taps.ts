// The tempo that somebody taps: from the times of the taps to quarter notes a minute.

import type { Meter } from '../show/song.ts'
import { ticksPerUnit } from '../time/meter.ts'
import { TICKS_PER_BEAT } from '../time/units.ts'
import { beatsOf } from './clicks.ts'

/** After so long a pause (ms) a tap begins anew; so many taps at most tell the tempo together. */
const PAUSE = 2500
const MOST = 9
/** Fewer taps than this tell nothing. */
const FEWEST = 3

/** The taps with one more. @param now ms */
export const tapped = (taps: readonly number[], now: number): number[] => {
  const last = taps.at(-1)
  return last === undefined || now - last > PAUSE ? [now] : [...taps.slice(1 - MOST), now]
}

/**
 * Quarter notes a minute, 20…400, to a tenth; null while there are too few taps. One tap is a beat as the meter is
 * felt: of 6/8 a dotted quarter, of 7/8 a quarter. The middle of the intervals counts, so that one slip does not.
 */
export function tappedTempo(taps: readonly number[], meter: Meter): number | null {
  if (taps.length < FEWEST) return null
  const intervals = taps.slice(1).map((at, i) => at - taps[i]!)
  const sorted = [...intervals].sort((a, b) => a - b)
  const half = sorted.length >> 1
  const middle = sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
  const beat = (beatsOf(meter)[1] ?? meter.beats) * ticksPerUnit(meter)
  const bpm = (60_000 / middle) * (beat / TICKS_PER_BEAT)
  return Math.min(400, Math.max(20, Math.round(bpm * 10) / 10))
}
