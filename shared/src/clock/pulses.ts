// A clock pulse comes in: is it the next one, a double, one after a gap; and what it says of place and tempo.

import { TICKS_PER_PULSE } from '../time/units.ts'
import { type Explanation, explained, FEWEST_IN_DOUBT } from './doubt.ts'
import {
  type Follower,
  type Jitter,
  lostAfter,
  type Prediction,
  pulsesIn,
  RATIO_PRIOR,
  songMs,
  stepOf,
} from './follower-state.ts'
import { corrected, doubted, lineAt, type PhaseFilter, predicted } from './phase-filter.ts'
import { placeAt } from './position.ts'

/** Pulses in doubt are judged when the case is clear, and at the latest when there are this many. */
const MOST_IN_DOUBT = 18
/** A pulse this soon after another, with none due, is the same one again: surely, and unless jitter is to blame. */
const SURELY_DOUBLE_MS = 1
const DOUBLE_MS = 3
/** Even a clean clock's stamps are this uncertain: their grain, and the loop that takes them. */
const JITTER_FLOOR = 0.25
/** Speeds (of the tempo followed) at which the position is slewed: well inside 0.5–2. */
const SLOWEST = 0.6
const FASTEST = 1.6
/** Small corrections are spread over this long. */
const SLEW_MS = 80

/** Takes one pulse (F8). */
export function pulsed(state: Follower, prediction: Prediction, at: number): Follower {
  const after = state.mode === 'armed' ? begun(state, prediction, at) : counted(state, prediction, at)
  return { ...after, interval: stepOf(after, prediction, 1) / after.filter.ratio }
}

/** Judges pulses still in doubt with what is known now, as before a Stop. */
export function settled(state: Follower, prediction: Prediction, at: number): Follower {
  if (!state.doubt) return state
  const why = explained(state, prediction, noiseOf(state))
  return slewed(state, resolved(state, prediction, why), prediction, at)
}

/** The position given out goes on from where it was before the correction. */
function slewed(before: Follower, after: Follower, prediction: Prediction, at: number): Follower {
  return after.mode === 'running' ? slewedFrom(placeAt(before, prediction, at), after, prediction, at) : after
}

/** Lets the position given out go on from `place`, and meet the filter's line at a bounded speed. */
export function slewedFrom(place: number, state: Follower, prediction: Prediction, at: number): Follower {
  const ahead = songMs(prediction, state.pulse, place) - lineAt(state.filter, at)
  const room = state.filter.ratio * (ahead > 0 ? 1 - SLOWEST : FASTEST - 1)
  return { ...state, slew: { ahead, since: at, over: Math.max(SLEW_MS, Math.abs(ahead) / room) } }
}

/** The first pulse after Start or Continue: the song is at `next` now. */
function begun(state: Follower, prediction: Prediction, at: number): Follower {
  const place = Math.max(state.held, state.next)
  const filter = steadyClock(state, prediction, at) ?? {
    at,
    phase: 0,
    ratio: state.filter.ratio,
    phaseVariance: noiseOf(state),
    covariance: 0,
    ratioVariance: Math.max(state.filter.ratioVariance, RATIO_PRIOR ** 2),
  }
  const begin: Follower = {
    ...state,
    mode: 'running',
    pulse: state.next,
    heardAt: at,
    filter,
    jitter: { ...state.jitter, last: null },
    errors: { ...state.errors, mean: 0 },
    doubt: null,
  }
  return slewedFrom(place, begin, prediction, at)
}

/**
 * The filter with its phase, when the clock went on ticking evenly over the Start; null when it began anew. A pulse
 * that is off by a little may be jitter or a new beginning: the phase is trusted no further than that.
 */
function steadyClock(state: Follower, prediction: Prediction, at: number): PhaseFilter | null {
  if (state.doubt || state.heardAt === null || at - state.heardAt > lostAfter(state)) return null
  const step = stepOf(state, prediction, 1)
  const filter = predicted(state.filter, at, false)
  const error = step - filter.phase
  if (Math.abs(error) > gate(state, filter, step)) return null
  return corrected(doubted(filter, error, 0), step, noiseOf(state))
}

function counted(state: Follower, prediction: Prediction, at: number): Follower {
  if (state.heardAt === null) return { ...state, heardAt: at, filter: { ...state.filter, at } }
  const missed = at - state.heardAt > lostAfter(state)
  if (state.doubt && missed) return counted(settled(state, prediction, at), prediction, at)
  if (doubles(state, prediction, at)) return state
  const heard: Follower = { ...state, heardAt: at }
  if (state.doubt) {
    const times = [...state.doubt.times, at]
    const doubting: Follower = { ...heard, doubt: { ...state.doubt, times } }
    if (times.length < FEWEST_IN_DOUBT) return doubting
    const why = explained(doubting, prediction, noiseOf(doubting))
    if (!why.clear && times.length < MOST_IN_DOUBT) return doubting
    return slewed(doubting, resolved(doubting, prediction, why), prediction, at)
  }
  if (missed) {
    const due = Math.round(pulsesIn(state, prediction, lineAt(state.filter, at)))
    return { ...heard, doubt: { times: [at], skipped: Math.max(0, due - 1), afterGap: true } }
  }
  const step = stepOf(state, prediction, 1)
  const filter = predicted(state.filter, at, false)
  if (Math.abs(step - filter.phase) > gate(state, filter, step)) {
    return { ...heard, doubt: { times: [at], skipped: 0, afterGap: false } }
  }
  return slewed(state, taken(heard, prediction, at, 1), prediction, at)
}

/**
 * True for the second of two pulses within 3 ms, unless jitter may have brought them together, or the place says that
 * it is due (pulses held up, then let go).
 */
function doubles(state: Follower, prediction: Prediction, at: number): boolean {
  const apart = at - state.heardAt!
  if (apart >= Math.min(DOUBLE_MS, state.interval / 4)) return false
  const jittered = (state.interval - apart) ** 2 < 16 * 2 * state.jitter.variance
  if (jittered && apart > SURELY_DOUBLE_MS) return false
  const waiting = state.doubt ? state.doubt.skipped + state.doubt.times.length : 0
  const due = apart > SURELY_DOUBLE_MS ? 0.5 : 0.9
  return lineAt(state.filter, at) < stepOf(state, prediction, waiting + due)
}

/** How far off (song ms) a pulse may be and still be taken as it comes: half an interval at most. */
function gate(state: Follower, filter: PhaseFilter, step: number): number {
  return Math.min(step / 2, 4 * Math.sqrt(filter.phaseVariance + noiseOf(state)))
}

/** Variance of a pulse's place from its jitter, song ms². */
function noiseOf(state: Follower): number {
  return Math.max(state.jitter.variance, JITTER_FLOOR ** 2) * state.filter.ratio ** 2
}

/** Takes the pulses in doubt for what they most likely were. */
function resolved(state: Follower, prediction: Prediction, why: Explanation): Follower {
  let after: Follower = {
    ...state,
    doubt: null,
    filter: doubted(state.filter, why.phaseError, why.ratioError),
  }
  let count = 0
  for (const [i, at] of state.doubt!.times.entries()) {
    if (why.counts[i]! <= count) continue
    after = taken(after, prediction, at, why.counts[i]! - count)
    count = why.counts[i]!
  }
  return after
}

/** Corrects place and tempo by a pulse that is the `pulses`th after the last one taken. */
function taken(state: Follower, prediction: Prediction, at: number, pulses: number): Follower {
  const step = stepOf(state, prediction, pulses)
  const missed = at - state.filter.at > lostAfter(state)
  const filter = predicted(state.filter, at, missed)
  const noise = noiseOf(state)
  const error = step - filter.phase
  const { errors, filter: trusted } = weighed(state, filter, error, noise)
  const off = pulses === 1 && !missed ? state.filter.ratio * (at - state.filter.at) - step : null
  return {
    ...state,
    pulse: state.mode === 'running' ? state.pulse + pulses * TICKS_PER_PULSE : state.pulse,
    filter: corrected(trusted, step, noise),
    jitter: jitterAfter(state.jitter, off, filter.ratio),
    errors,
  }
}

/** Pulses that the running mean of errors looks back over, and those of the mean square. */
const MEAN_PULSES = 8
const SQUARE_PULSES = 48

/**
 * Errors that keep to one side are no jitter: the tempo has moved. When their mean is 4.5 times what chance would
 * leave of it, the filter's trust falls to that size.
 */
function weighed(state: Follower, filter: PhaseFilter, error: number, noise: number) {
  const { errors } = state
  const mean = errors.mean + (error - errors.mean) / MEAN_PULSES
  const chance = (filter.phaseVariance + noise) / (2 * MEAN_PULSES - 1)
  const drifting = mean ** 2 > 20 * chance
  const count = Math.min(errors.count + 1, SQUARE_PULSES)
  const square = errors.square + ((error / filter.ratio) ** 2 - errors.square) / count
  return {
    errors: { mean: drifting ? 0 : mean, square, count },
    filter: drifting ? doubted(filter, mean, mean / (MEAN_PULSES * state.interval)) : filter,
  }
}

const JITTER_PULSES = 64

/** Three pulses in a row tell their jitter: the variance of t₁ − 2t₂ + t₃ is six times it, whatever the tempo. */
function jitterAfter(jitter: Jitter, off: number | null, ratio: number): Jitter {
  if (off === null || jitter.last === null) return { ...jitter, last: off }
  const sixfold = Math.min(
    ((off - jitter.last) / ratio) ** 2,
    16 * 6 * Math.max(jitter.variance, JITTER_FLOOR ** 2),
  )
  const count = Math.min(jitter.count + 1, JITTER_PULSES)
  return { variance: jitter.variance + (sixfold / 6 - jitter.variance) / count, count, last: off }
}
