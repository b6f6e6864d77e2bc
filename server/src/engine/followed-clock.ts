// The MIDI clock that the engine follows: bytes in, the song's written position out; who moves it is told apart.

import { follow, placed, repredicted } from '@glowchart/shared/clock/follower.ts'
import {
  type Follower,
  follower as freshFollower,
  type Prediction,
} from '@glowchart/shared/clock/follower-state.ts'
import { midiParser, parseByte } from '@glowchart/shared/clock/parser.ts'
import { positionAt, unknownPosition } from '@glowchart/shared/clock/position.ts'
import type { ClockStatus } from '@glowchart/shared/messages.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'

/** Positions are written positions in ticks, times ms of the machine's monotonic clock. */
export interface FollowedClock {
  readonly follower: Follower
  readonly running: boolean
  /** One byte; nothing is followed while there is no song to predict its tempo. */
  hear(byte: number, at: number, prediction: Prediction | null): void
  /** True once after each time that the clock itself told another place. */
  takeRelocation(): boolean
  /** Where the song is; asked ahead of bytes still to come, it may come back by a hair. Allocates nothing. */
  writtenAt(prediction: Prediction, at: number): Ticks
  /** Goes on from a place that was chosen by hand. */
  moveTo(prediction: Prediction, written: Ticks): void
  /** The same place under another prediction: the song was edited, or has jumped. */
  repredict(from: Prediction, to: Prediction, at: number): void
  status(prediction: Prediction, now: number): ClockStatus
  resume(follower: Follower): void
}

export function followedMidiClock(): FollowedClock {
  let parser = midiParser
  let clock = freshFollower(ticks(0))
  /** Those that are accounted for. */
  let relocations = 0
  const followed = unknownPosition()

  return {
    get follower() {
      return clock
    },
    get running() {
      return clock.mode === 'running'
    },
    hear(byte, at, prediction) {
      const heard = parseByte(parser, byte, at)
      parser = heard.parser
      if (heard.message && prediction) clock = follow(clock, prediction, heard.message)
    },
    takeRelocation() {
      if (clock.relocations === relocations) return false
      relocations = clock.relocations
      return true
    },
    writtenAt: (prediction, at) =>
      ticks(positionAt(clock, prediction, at, followed).ticks + prediction.shift),
    moveTo(prediction, written) {
      clock = placed(clock, prediction, ticks(written - prediction.shift))
      relocations = clock.relocations
    },
    repredict(from, to, at) {
      clock = repredicted(clock, from, to, at)
    },
    status(prediction, now) {
      const { bpm, lock, estimated, jitterMs } = positionAt(clock, prediction, now, followed)
      return { source: 'midi', lock, bpm, estimated, jitter: jitterMs }
    },
    resume(follower) {
      clock = follower
      relocations = clock.relocations
    },
  }
}
