// What the MIDI clock follower remembers: one plain value, and the song's own tempo as its prediction.

import { bpmAt, secondsAt, type TempoMap, ticksAt } from '../time/tempo.ts'
import { TICKS_PER_PULSE, type Ticks } from '../time/units.ts'
import type { PhaseFilter } from './phase-filter.ts'

/** What the song says its tempo will be: the written tempo map, and written minus played position in ticks. */
export interface Prediction {
  readonly tempo: TempoMap
  readonly shift: number
}

/**
 * Plain data: may be cloned, sent and stored. Positions are played ticks, times ms of the clock that stamps the bytes.
 * - `armed`: the next pulse is the place `next` (after Start or Continue, and before anything was heard)
 * - `running`: pulses move the position
 * - `stopped`: by Stop, or by a Song Position that waits for its Continue; pulses only tell the tempo
 */
export interface Follower {
  readonly mode: 'armed' | 'running' | 'stopped'
  /** The position is a guess: pulses came, but no Start and no Song Position to say where the song is. */
  readonly estimated: boolean
  /** Song starts so far; Starts within 100 ms of one another are one. */
  readonly starts: number
  /** Times the position was told to be elsewhere: the only times it may go back. */
  readonly relocations: number
  readonly startedAt: number | null
  /** Where the position stands while not running. */
  readonly held: number
  /** Where the first pulse after Start or Continue will be. */
  readonly next: number
  /** The place of a Song Position that came while running: it waits for a Continue. */
  readonly pending: number | null
  /** Place of the last pulse taken while running. */
  readonly pulse: number
  /** The last pulse heard, taken or not. */
  readonly heardAt: number | null
  /** The latest time of any message: time does not go back. */
  readonly now: number
  /** Ms to the next pulse at the tempo followed. */
  readonly interval: number
  readonly filter: PhaseFilter
  readonly jitter: Jitter
  readonly errors: PhaseErrors
  /** Pulses that do not fit, kept until it is clear why. */
  readonly doubt: Doubt | null
  readonly slew: Slew
}

/** Estimate of the pulses' own jitter, from how consecutive intervals differ: blind to tempo and phase. */
export interface Jitter {
  /** Ms². */
  readonly variance: number
  readonly count: number
  /** By how much the last interval was off in song ms; null when it says nothing. */
  readonly last: number | null
}

/** Phase errors of the pulses taken, in ms: their running mean, and mean square over about two beats. */
export interface PhaseErrors {
  readonly mean: number
  readonly square: number
  readonly count: number
}

export interface Doubt {
  readonly times: readonly number[]
  /** Pulses that must have been missed before the first of them; above 0 only after a gap. */
  readonly skipped: number
  readonly afterGap: boolean
}

/** How far (song ms) the position given out is ahead of the filter's line: falls evenly to 0 in `over` ms from `since`. */
export interface Slew {
  readonly ahead: number
  readonly since: number
  readonly over: number
}

/** Before anything is known: a ratio of 1 to the song's tempo give or take 5 %, jitter of 1.5 ms. */
export const RATIO_PRIOR = 0.05
const JITTER_PRIOR: Jitter = { variance: 1.5 ** 2, count: 6, last: null }

/** A follower that has heard nothing; pulses without a Start would move on from `place`, marked as estimated. */
export function follower(place: Ticks): Follower {
  return {
    mode: 'armed',
    estimated: true,
    starts: 0,
    relocations: 0,
    startedAt: null,
    held: place,
    next: place,
    pending: null,
    pulse: place,
    heardAt: null,
    now: 0,
    interval: 0,
    filter: { at: 0, phase: 0, ratio: 1, phaseVariance: 0, covariance: 0, ratioVariance: RATIO_PRIOR ** 2 },
    jitter: JITTER_PRIOR,
    errors: { mean: 0, square: 0, count: 0 },
    doubt: null,
    slew: { ahead: 0, since: 0, over: 1 },
  }
}

/** Song ms between two places of the played song. */
export function songMs({ tempo, shift }: Prediction, from: number, to: number): number {
  return (secondsAt(tempo, (to + shift) as Ticks) - secondsAt(tempo, (from + shift) as Ticks)) * 1000
}

/** The place `ms` song ms after another one. */
export function placeAfter({ tempo, shift }: Prediction, from: number, ms: number): number {
  return ticksAt(tempo, (secondsAt(tempo, (from + shift) as Ticks) + ms / 1000) as never) - shift
}

/** The song's own tempo at a place. */
export const songBpm = ({ tempo, shift }: Prediction, place: number): number =>
  bpmAt(tempo, (place + shift) as Ticks)

/** Song ms from the last pulse to the one `pulses` after it; while not running, at the tempo of where the song stands. */
export function stepOf(state: Follower, prediction: Prediction, pulses: number): number {
  if (state.mode !== 'running') return (pulses * MS_PER_PULSE_AT_1_BPM) / songBpm(prediction, state.held)
  return songMs(prediction, state.pulse, state.pulse + pulses * TICKS_PER_PULSE)
}

/** How many pulses lie in `ms` song ms from the last pulse on: the inverse of `stepOf`. */
export function pulsesIn(state: Follower, prediction: Prediction, ms: number): number {
  if (state.mode !== 'running') return (ms * songBpm(prediction, state.held)) / MS_PER_PULSE_AT_1_BPM
  return (placeAfter(prediction, state.pulse, ms) - state.pulse) / TICKS_PER_PULSE
}

/** 60 000 ms over 24 pulses (MIDI 1.0: 24 a quarter note). */
const MS_PER_PULSE_AT_1_BPM = 2500

/** Silence after which pulses count as lost: 100 ms, and never fewer than three intervals. */
export const lostAfter = (state: Follower): number => Math.max(100, 3 * state.interval)
