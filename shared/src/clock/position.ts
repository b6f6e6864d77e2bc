// Where a followed song is at a time: read every frame, so nothing here allocates.

import type { ClockStatus } from '../messages.ts'
import type { Ticks } from '../time/units.ts'
import { type Follower, lostAfter, type Prediction, placeAfter, songBpm } from './follower-state.ts'
import { lineAt } from './phase-filter.ts'

export interface FollowedPosition {
  /** Played position. */
  ticks: Ticks
  /** The tempo followed, quarter notes a minute. */
  bpm: number
  lock: ClockStatus['lock']
  /** False while the position holds. */
  running: boolean
  /** No message has said where the song is. */
  estimated: boolean
  /** RMS phase error of the pulses over about two beats, ms. */
  jitterMs: number
}

export const unknownPosition = (): FollowedPosition => ({
  ticks: 0 as Ticks,
  bpm: 0,
  lock: 'waiting',
  running: false,
  estimated: true,
  jitterMs: 0,
})

/**
 * Writes the position at a time into `into` and returns it. For times that do not fall, asked about after every
 * message before them, the ticks never fall unless `relocations` has risen. A caller that asks ahead of messages
 * still to come must keep its own maximum.
 */
export function positionAt(
  state: Follower,
  prediction: Prediction,
  at: number,
  into: FollowedPosition,
): FollowedPosition {
  const running = state.mode === 'running'
  const ticks = placeAt(state, prediction, at)
  into.ticks = ticks as Ticks
  into.bpm = songBpm(prediction, ticks) * state.filter.ratio
  into.lock = lockAt(state, at)
  into.running = running
  into.estimated = state.estimated
  into.jitterMs = Math.sqrt(state.errors.square)
  return into
}

/** Played ticks at a time. */
export function placeAt(state: Follower, prediction: Prediction, at: number): number {
  if (state.mode !== 'running') return state.held
  const { filter, slew } = state
  const left = Math.min(1, Math.max(0, 1 - (at - slew.since) / slew.over))
  return placeAfter(prediction, state.pulse, lineAt(filter, at) + slew.ahead * left)
}

/** Locked: place known to 2 ms and tempo to 1 % (standard deviations). */
function lockAt(state: Follower, at: number): ClockStatus['lock'] {
  if (state.mode === 'stopped') return 'stopped'
  const silent = state.heardAt === null || at - state.heardAt > lostAfter(state)
  if (state.mode === 'armed') return silent ? 'waiting' : 'locking'
  if (silent) return 'lost'
  const { phaseVariance, ratioVariance, ratio } = state.filter
  const sure = phaseVariance < (2 * ratio) ** 2 && ratioVariance < (0.01 * ratio) ** 2
  return sure && !state.doubt?.afterGap ? 'locked' : 'locking'
}
