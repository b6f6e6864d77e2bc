// Pulses that came at other times than expected: was the tempo changed, or were some lost or doubled?

import { type Follower, type Prediction, pulsesIn, stepOf } from './follower-state.ts'
import { lineAt } from './phase-filter.ts'

export interface Explanation {
  /** The number of each pulse in doubt, counted from the last one taken; one no higher than before is a double. */
  readonly counts: readonly number[]
  /** By how much phase (song ms) and ratio seem to be wrong. */
  readonly phaseError: number
  readonly ratioError: number
  /** True when the other explanation is far less likely, or comes to the same counts. */
  readonly clear: boolean
}

/** Fewer pulses than this, a quarter of a beat, say nothing of a change of tempo. */
export const FEWEST_IN_DOUBT = 6

/** What a pulse lost or doubled, or a change of tempo, weighs against squared errors: one in a hundred, −2 ln 0.01. */
const RARE = 9.2

/**
 * Weighs two explanations by their likelihood. Either each pulse is one on from the last, and the tempo is another
 * one since: the errors grow evenly with time. Or the tempo is as it was, and the errors are jitter and, where
 * pulses were lost or doubled, whole intervals. A tempo that halved exactly fits both, but would take a pulse lost
 * before each one that came.
 * @param noise variance of a pulse's jitter, song ms²
 */
export function explained(state: Follower, prediction: Prediction, noise: number): Explanation {
  const { times, skipped, afterGap } = state.doubt!
  const oneEach = times.map((_, i) => skipped + i + 1)
  const tempo = tempoChange(state, prediction, oneEach, noise)
  const path = lostAndDoubled(state, prediction, oneEach, noise, afterGap)
  const odds = (path.cost - tempo.cost) / noise - RARE
  const clear = Math.abs(odds) > RARE || path.counts.every((count, i) => count === oneEach[i])
  if (odds < 0 || times.length < FEWEST_IN_DOUBT)
    return { counts: path.counts, phaseError: 0, ratioError: 0, clear }
  return { counts: oneEach, phaseError: tempo.phaseError, ratioError: 2 * tempo.ratioError, clear }
}

/**
 * Least squares of error = a + b · time since the last pulse taken. How far a may be from 0 is what the filter knows of
 * its phase, and the mean of its last errors: the first pulses of a new tempo have been taken as they came.
 */
function tempoChange(
  state: Follower,
  prediction: Prediction,
  counts: readonly number[],
  noise: number,
): { cost: number; phaseError: number; ratioError: number } {
  const { times } = state.doubt!
  const { filter } = state
  const errors = times.map((at, i) => stepOf(state, prediction, counts[i]!) - lineAt(filter, at))
  const prior = noise / Math.max(filter.phaseVariance + state.errors.mean ** 2, 1e-6)
  let [n, t, tt, e, et] = [prior, 0, 0, 0, 0]
  for (const [i, error] of errors.entries()) {
    const since = times[i]! - filter.at
    n += 1
    t += since
    tt += since * since
    e += error
    et += error * since
  }
  const determinant = n * tt - t * t
  const b = determinant > 0 ? (n * et - t * e) / determinant : 0
  const a = (e - b * t) / n
  let cost = prior * a * a
  for (const [i, error] of errors.entries()) cost += (error - a - b * (times[i]! - filter.at)) ** 2
  return { cost, phaseError: a, ratioError: b }
}

/**
 * The likeliest count of each pulse at the old tempo (Viterbi): `offsets` are how many more or fewer pulses than one
 * each have gone by; changing it between two pulses is rare. After a gap the first one is free.
 */
function lostAndDoubled(
  state: Follower,
  prediction: Prediction,
  oneEach: readonly number[],
  noise: number,
  afterGap: boolean,
): { cost: number; counts: readonly number[] } {
  const lines = state.doubt!.times.map(at => lineAt(state.filter, at))
  const nearest = lines.map((line, i) => Math.round(pulsesIn(state, prediction, line)) - oneEach[i]!)
  const lowest = Math.min(0, ...nearest)
  const offsets = Array.from({ length: Math.max(0, ...nearest) - lowest + 1 }, (_, k) => lowest + k)
  let costs = offsets.map(offset => (afterGap || offset === 0 ? 0 : RARE * noise))
  const cameFrom: number[][] = []
  for (const [i, line] of lines.entries()) {
    const best = costs.indexOf(Math.min(...costs))
    const from = offsets.map((_, k) => (i > 0 && costs[best]! + RARE * noise < costs[k]! ? best : k))
    costs = offsets.map((offset, k) => {
      const change = from[k] === k ? 0 : RARE * noise
      return costs[from[k]!]! + change + (stepOf(state, prediction, oneEach[i]! + offset) - line) ** 2
    })
    cameFrom.push(from)
  }
  const cost = Math.min(...costs)
  let at = costs.indexOf(cost)
  const counts: number[] = []
  for (let i = lines.length - 1; i >= 0; i--) {
    counts.unshift(oneEach[i]! + offsets[at]!)
    at = cameFrom[i]![at]!
  }
  return { cost, counts }
}
