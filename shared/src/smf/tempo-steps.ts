// A tempo map as steps of whole microseconds a quarter note, which is all that a Standard MIDI File can hold.

import { bpmAt, secondsAt, type TempoMap } from '../time/tempo.ts'
import { TICKS_PER_BEAT, type Ticks } from '../time/units.ts'

export interface TempoStep {
  readonly at: Ticks
  /** A quarter note, 1…16777215. */
  readonly microseconds: number
}

/** A steady tempo is looked after this often, and put right once the rounding has come to `DRIFT`. */
const STEADY_TICKS = 512 * TICKS_PER_BEAT
/** Seconds. */
const DRIFT = 0.0005
/** A glide is cut into sixteenths, or finer where it is so steep that a step would be `BULGE` seconds off inside. */
const GLIDE_TICKS = TICKS_PER_BEAT / 4
const BULGE = 0.0002

/**
 * Steps from tick 0 to `end`, the first at 0. Each lasts as long as its stretch of the map: a steady tempo is written
 * as it is, to the nearest microsecond, until the times have drifted apart by half a millisecond.
 */
export function tempoSteps(map: TempoMap, end: Ticks): TempoStep[] {
  const steps: TempoStep[] = []
  let written = 0
  for (const [i, segment] of map.entries()) {
    const segmentEnd = Math.min(map[i + 1]?.at ?? end, end)
    for (let at = segment.at as number; at < segmentEnd; ) {
      const until = Math.min(
        segmentEnd,
        at + (segment.slope === 0 ? STEADY_TICKS : glideTicks(map, at, segment.slope)),
      )
      const beats = (until - at) / TICKS_PER_BEAT
      const due = secondsAt(map, until as Ticks)
      const plain = Math.round(60e6 / segment.bpm)
      const drifts = Math.abs(written + (plain * beats) / 1e6 - due) > DRIFT
      const microseconds = segment.slope === 0 && !drifts ? plain : exact((due - written) / beats)
      if (steps.at(-1)?.microseconds !== microseconds) steps.push({ at: at as Ticks, microseconds })
      written += (microseconds * beats) / 1e6
      at = until
    }
  }
  return steps
}

const exact = (secondsPerBeat: number): number =>
  Math.min(0xffffff, Math.max(1, Math.round(secondsPerBeat * 1e6)))

/**
 * A step of h beats in place of a glide of s BPM a beat at b BPM is off by at most h²/8 · 60|s|/b² seconds, half way
 * through: the second derivative of the time is 60s/b².
 */
function glideTicks(map: TempoMap, at: number, slope: number): number {
  const here = bpmAt(map, at as Ticks)
  const next = bpmAt(map, (at + GLIDE_TICKS) as Ticks)
  const slowest = Math.min(here, next)
  const beats = Math.sqrt((BULGE * 8 * slowest ** 2) / (60 * Math.abs(slope)))
  return Math.max(1, Math.min(GLIDE_TICKS, Math.floor(beats * TICKS_PER_BEAT)))
}
