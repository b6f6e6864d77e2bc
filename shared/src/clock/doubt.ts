// Pulses that came at other times than expected: was the tempo changed, or were some lost or doubled?

import { type Follower, type Prediction, pulsesIn, stepOf } from './follower-state.ts'
import { lineAt } from './phase-filter.ts'

export interface Explanation {
  /** The number of each pulse in doubt, counted from the last one taken; one no higher than before is a double. */
  readonly counts: readonly number[]
  /** By how much the ratio seems to be wrong (0 when the errors do not show it). */
  readonly ratioError: number
}

/**
 * Two explanations are weighed by the sum of their squared errors. Either each pulse is one on from the last, and the
 * tempo is another one since: their errors grow evenly with time. Or the tempo is as it was, and each pulse is the
 * nearest one on the line: their errors are whole intervals. Where both explain the same, as when the tempo has
 * halved exactly, the pulses count one each.
 * @param noise variance of a pulse's jitter, song ms²
 */
export function explained(state: Follower, prediction: Prediction, noise: number): Explanation {
  const { times, skipped } = state.doubt!
  const { filter } = state
  let errorTime = 0
  let timeTime = 0
  for (const [i, at] of times.entries()) {
    const since = at - filter.at
    errorTime += (stepOf(state, prediction, skipped + i + 1) - lineAt(filter, at)) * since
    timeTime += since * since
  }
  const ratioError = timeTime > 0 ? errorTime / timeTime : 0
  const nearest: number[] = []
  let oneEach = 0
  let asBefore = 0
  for (const [i, at] of times.entries()) {
    const line = lineAt(filter, at)
    oneEach += (stepOf(state, prediction, skipped + i + 1) - line - ratioError * (at - filter.at)) ** 2
    const count = Math.round(pulsesIn(state, prediction, line))
    asBefore += (stepOf(state, prediction, count) - line) ** 2
    nearest.push(count)
  }
  if (oneEach > asBefore * (1 + 1e-9) + 1e-9) return { counts: nearest, ratioError: 0 }
  const shown = ratioError ** 2 * timeTime > 9 * noise
  return { counts: times.map((_, i) => skipped + i + 1), ratioError: shown ? 2 * ratioError : 0 }
}
