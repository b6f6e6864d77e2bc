// MIDI time code as a clock that the engine follows: seconds of the sender's time to a place in the song that stands.

import {
  followMtc,
  mtcFollower,
  mtcJitter,
  mtcLock,
  mtcRuns,
  mtcSecondsAt,
} from '@glowchart/shared/clock/mtc-follower.ts'
import {
  framesPerSecond,
  type Timecode,
  timecodeOf,
  timecodeSeconds,
  timecodeText,
} from '@glowchart/shared/clock/timecode.ts'
import type { TimecodePlace } from '@glowchart/shared/messages.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { bpmAt, secondsAt, ticksAt } from '@glowchart/shared/time/tempo.ts'
import { seconds, type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import type { Followed, FollowedClock } from './followed-clock.ts'

export interface TimecodeClock extends FollowedClock {
  readonly place: TimecodePlace
  /**
   * Where the song lies on the time: `start` is the label of its first bar, as the sender shows it; null: its first bar
   * is where the time is when it next runs. `anew`: it has been chosen, not only edited.
   */
  startAt(start: Timecode | null, anew: boolean): void
  resume(place: TimecodePlace): void
}

export function timecodeClock(): TimecodeClock {
  let follower = mtcFollower
  let start: Timecode | null = null
  let origin: number | null = null
  let moved = 0
  let entered = false
  let rest = ticks(0)
  let relocations = 0

  /** Song seconds since the first bar; null where nothing says. */
  const songSeconds = (at: number): number | null => {
    if (follower.mode === 'unknown') return null
    const from = start ? timecodeSeconds(start, follower.rate) : origin
    return from === null ? null : mtcSecondsAt(follower, at) - from + moved
  }
  const isInside = ({ timeline }: Followed, second: number): boolean =>
    second >= 0 && second < secondsAt(timeline.tempo, timeline.length)

  return {
    get place() {
      const from = start && follower.mode !== 'unknown' ? timecodeSeconds(start, follower.rate) : origin
      return { follower, origin: from, moved, entered, rest }
    },
    hear(message) {
      follower = followMtc(follower, message)
    },
    step(song, at) {
      const wasTold = follower.relocations !== relocations
      relocations = follower.relocations
      // A hand's own place, taken up since, is undone by the sender's word; a start unknown to it is not.
      if (wasTold && start) moved = 0
      if (origin === null && !start && mtcRuns(follower, at)) {
        origin = mtcSecondsAt(follower, at) - secondsAt(song.timeline.tempo, rest)
      }
      const second = songSeconds(at)
      if (second !== null && isInside(song, second)) entered = true
      return wasTold && second !== null
    },
    runs(song, at) {
      const second = songSeconds(at)
      if (second === null || second < 0 || !mtcRuns(follower, at)) return false
      return entered || isInside(song, second)
    },
    writtenAt(song, at) {
      const second = songSeconds(at)
      if (second === null) return rest
      // Chosen by hand while the time is elsewhere, it waits where it was put.
      if (!entered && !isInside(song, second)) return rest
      return second < 0 ? ticks(0) : ticksAt(song.timeline.tempo, seconds(second))
    },
    moveTo(_, written) {
      rest = written
      entered = false
    },
    jump({ timeline }, from, to) {
      if (entered) moved += secondsAt(timeline.tempo, to) - secondsAt(timeline.tempo, from)
      else rest = to
    },
    startAt(next, anew) {
      if (!anew && sameValue(next, start)) return
      moved = 0
      origin = null
      start = next
    },
    speed: () => follower.filter.ratio,
    status(song, now) {
      const tempo = bpmAt(song.timeline.tempo, placeForTempo(song, now))
      const lock = mtcLock(follower, now)
      const bpm = tempo * follower.filter.ratio
      const known = follower.mode !== 'unknown'
      const { rate } = follower
      const frame = Math.floor(mtcSecondsAt(follower, now) * framesPerSecond(rate) + 1e-6)
      const label = known ? { timecode: { label: timecodeText(timecodeOf(frame, rate)), rate } } : {}
      return { source: 'mtc', lock, bpm, estimated: false, jitter: mtcJitter(follower), ...label }
    },
    resume(place) {
      follower = place.follower
      ;({ origin, moved, entered } = place)
      rest = ticks(place.rest)
      relocations = follower.relocations
    },
  }

  function placeForTempo({ timeline }: Followed, now: number): Ticks {
    const second = songSeconds(now)
    return second === null || second < 0 ? rest : ticksAt(timeline.tempo, seconds(second))
  }
}
