// Tap tempo in the engine: taps of keys, pedals and pages, and the speed that they ask of what stands.

import { tapped, tappedTempo } from '@glowchart/shared/score/taps.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'

/** The bounds of the transport's speed. */
const SLOWEST = 0.25
const FASTEST = 4

/**
 * Returns what takes one tap at `at` (ms) while a song is at a written position: the speed as a factor on its tempo;
 * null while too few have been tapped.
 */
export function tempoTaps(): (at: number, timeline: Timeline, position: number) => number | null {
  let taps: readonly number[] = []
  return (at, { meters, tempo }, position) => {
    taps = tapped(taps, at)
    const { meter } = meters.findLast(one => one.at <= position) ?? meters[0]!
    const bpm = tappedTempo(taps, meter)
    return bpm && Math.min(FASTEST, Math.max(SLOWEST, bpm / bpmAt(tempo, ticks(position))))
  }
}
