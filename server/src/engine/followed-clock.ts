// What the engine asks of a clock that it follows; and MIDI clock as one.

import { follow, placed, repredicted, told } from '@glowchart/shared/clock/follower.ts'
import {
  type Follower,
  follower as freshFollower,
  type Prediction,
} from '@glowchart/shared/clock/follower-state.ts'
import type { MidiMessage } from '@glowchart/shared/clock/parser.ts'
import { positionAt, unknownPosition } from '@glowchart/shared/clock/position.ts'
import type { ClockStatus } from '@glowchart/shared/messages.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'

/** A song, and how far its written position lies from the one played (see `TransportState.shift`). */
export interface Followed {
  readonly timeline: Timeline
  readonly shift: number
}

/** Positions are written positions in ticks, times ms of the machine's monotonic clock. */
export interface FollowedClock {
  /** Nothing is followed while there is no song to predict its tempo. */
  hear(message: MidiMessage, song: Followed | null): void
  /** Once a frame, before anything is asked. True when the clock itself has told another place: jumps are undone. */
  step(song: Followed, at: number): boolean
  runs(song: Followed, at: number): boolean
  /** Where the song is; asked ahead of bytes still to come, it may come back by a hair. Allocates nothing. */
  writtenAt(song: Followed, at: number): Ticks
  /** The song stands, by hand, at a place, and goes on from there. */
  moveTo(song: Followed, written: Ticks): void
  /** The song goes on from another place while it runs: by a loop, a vamp or a hand. */
  jump(song: Followed, from: Ticks, to: Ticks, at: number): void
  /** Factor on the song's tempo. */
  speed(song: Followed, now: number): number
  status(song: Followed, now: number): ClockStatus
}

export interface MidiClock extends FollowedClock {
  readonly follower: Follower
  /** The same place in a song that was edited or changed. */
  repredict(from: Followed, to: Followed): void
  /** A hand has said where the song is. */
  told(): void
  resume(follower: Follower): void
}

const predictionOf = ({ timeline, shift }: Followed): Prediction => ({ tempo: timeline.tempo, shift })

export function midiClock(): MidiClock {
  let clock = freshFollower(ticks(0))
  /** Those that are accounted for. */
  let relocations = 0
  const followed = unknownPosition()

  return {
    get follower() {
      return clock
    },
    hear(message, song) {
      if (song) clock = follow(clock, predictionOf(song), message)
    },
    step() {
      if (clock.relocations === relocations) return false
      relocations = clock.relocations
      return true
    },
    runs: () => clock.mode === 'running',
    writtenAt: (song, at) => ticks(positionAt(clock, predictionOf(song), at, followed).ticks + song.shift),
    moveTo(song, written) {
      clock = placed(clock, predictionOf(song), ticks(written - song.shift))
      relocations = clock.relocations
    },
    jump(song, from, to, at) {
      clock = repredicted(
        clock,
        predictionOf(song),
        predictionOf({ ...song, shift: song.shift + to - from }),
        at,
      )
    },
    repredict(from, to) {
      clock = repredicted(clock, predictionOf(from), predictionOf(to), clock.now)
    },
    told() {
      clock = told(clock)
    },
    speed(song, now) {
      const { ticks: played, bpm } = positionAt(clock, predictionOf(song), now, followed)
      return bpm / bpmAt(song.timeline.tempo, ticks(played + song.shift))
    },
    status(song, now) {
      const { bpm, lock, estimated, jitterMs } = positionAt(clock, predictionOf(song), now, followed)
      return { source: 'midi', lock, bpm, estimated, jitter: jitterMs }
    },
    resume(follower) {
      clock = follower
      relocations = clock.relocations
    },
  }
}
