// One row of the table of beats: what was found in a recording against what is known of it.

import { atRate, type PulseRate, steadyBeats } from '@glowchart/shared/beats/steady.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import { findBeats } from '@glowchart/web/recording/find-beats.ts'
import type { KnownBeats } from './beat-audio.ts'
import { fMeasure, tempoFactor } from './beat-score.ts'

export interface BeatRow {
  readonly name: string
  readonly truth: number
  /** Null: none was found. */
  readonly found: number | null
  readonly factor: number | null
  /** As found; and at the best of half, as found and double, which is one press for the user. */
  readonly f: number
  readonly best: number
}

const RATES: readonly PulseRate[] = [0.5, 1, 2]

export function beatRow({ name, samples, truth, bpm }: KnownBeats): BeatRow {
  try {
    const beats = findBeats(samples, name, () => {})
    const found = 60 / steadyBeats(beats)!.interval
    const atEach = RATES.flatMap(rate => [
      fMeasure(atRate(beats, rate), truth),
      fMeasure(atRate(beats.slice(1), rate), truth),
    ])
    return {
      name,
      truth: bpm,
      found,
      factor: tempoFactor(found, bpm),
      f: fMeasure(beats, truth),
      best: Math.max(...atEach),
    }
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    return { name, truth: bpm, found: null, factor: null, f: 0, best: 0 }
  }
}
