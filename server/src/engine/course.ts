// The song's course in the engine: frame by frame, where the song is by its transport and its clock; no light.

import { midiParser, parseByte } from '@glowchart/shared/clock/parser.ts'
import {
  anchored,
  internalPosition,
  isCountedIn,
  minded,
  repeats,
  stopped,
  stoppedTransport,
  type TransportState,
} from '@glowchart/shared/clock/transport.ts'
import { type Problem, problem } from '@glowchart/shared/errors.ts'
import type { ClockStatus, Resume } from '@glowchart/shared/messages.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { type Followed, type FollowedClock, type MidiClock, midiClock } from './followed-clock.ts'
import { type TimecodeClock, timecodeClock } from './followed-timecode.ts'
import type { LoopTransport } from './loop-messages.ts'
import type { Piece } from './player.ts'
import { follows, pressed } from './press.ts'

export interface Course {
  readonly transport: TransportState
  readonly midiClock: MidiClock
  readonly timecode: TimecodeClock
  /** Written position of the frame asked for last, and whether it moves: a song that is counted in does not. */
  readonly position: Ticks
  readonly moves: boolean
  /** The written span that this frame stands for, ticks; empty while nothing moves. */
  readonly from: Ticks
  readonly to: Ticks
  clockStatus(now: number): ClockStatus
  /** The tempo that sounds, quarter notes a minute, and by what factor it is another than the one written there. */
  tempo(now: number): { bpm: number; speed: number }
  take(piece: Piece, frame: number, at?: number, place?: number | null): void
  press(press: LoopTransport, frame: number): Problem | undefined
  midi(byte: number, at: number): void
  setRate(rate: number, frame: number): void
  resume(state: Resume): void
  /** Goes on as another laptop's song does; our own clock keeps what it has heard. */
  mirror(transport: TransportState): void
  /** Whether we hear such a clock ourselves, it is locked, and knows where the song is; `at` in ms. */
  hears(source: 'midi' | 'mtc', at: number): boolean
  /** Goes to frame `frame`, due at `due` ms of the machine's monotonic clock. */
  step(frame: number, due: number): void
  /** How late the light is against the clock, ms; below 0 early. `position` is the light's; the clock's is not said. */
  readonly lightOffset: number
  /** Seconds of the song that pass in one on the wall. */
  readonly pace: number
}

/** Part of a frame by which two may differ and be one. */
const GRID = 1e-6

/** @param firstRate frames a second */
export function songCourse(firstRate: number): Course {
  let rate = firstRate
  let piece: Piece | null = null
  let transport = stoppedTransport(null)
  let position = ticks(0)
  let parser = midiParser
  const pulses = midiClock()
  const timecode = timecodeClock()
  /** The clock that is followed, where it is not our own. */
  const clock = (): FollowedClock => (transport.source === 'mtc' ? timecode : pulses)
  /** True once the pulses' song has reached its end, until they are told another place. */
  let over = false
  /** Where the frame's interval begins when it is not the position itself. */
  let entered = ticks(0)
  /** The place that the clock has just told. */
  let told: Ticks | null = null
  let moves = false
  /** When the last frame was due. */
  let now = 0
  /** Where the song was before is not where this frame comes from: no repeat lies between. */
  let anew = false
  let from = ticks(0)
  let to = ticks(0)

  /**
   * Light that is late by some ms is the light of a course that runs so much later: every frame is asked for by the
   * number and the time that it would have had then, and everything else here is as if there were no offset.
   */
  const offset = (): number => piece?.compiled.venue.lightOffset ?? 0
  const shifted = (frame: number): number => frame - (offset() * rate) / 1000
  /**
   * Where a press acts. A song that starts late waits until the clock is there, on its own grid; one that is early
   * starts at once, and the clock waits for it: nothing of its first moments is passed over.
   */
  const pressedAt = (press: LoopTransport, frame: number): number => {
    const here = shifted(frame)
    return press.do === 'play' && here < frame ? here + Math.ceil(frame - here - GRID) : here
  }

  const followed = ({ compiled }: Piece): Followed => ({
    timeline: compiled.timeline,
    shift: transport.shift,
  })
  const moveClocksTo = (place: Ticks): void => {
    if (!piece) return
    pulses.moveTo(followed(piece), place)
    timecode.moveTo(followed(piece), place)
  }

  /** The written position on a clock that is followed; its own relocations undo whatever jumps had been made. */
  function followedPosition(song: Piece, due: number): Ticks {
    if (clock().step(followed(song), due + offset())) {
      transport = { ...transport, shift: 0, released: null }
      over = false
      // The clock's own place: late light waits there, early light shows in its first frame all that it passes over.
      position = clock().writtenAt(followed(song), due + offset())
      told = position
    }
    return clock().writtenAt(followed(song), due)
  }

  /** Where the song is in this frame; loops and vamps are minded, the song's end stops it. */
  function placeIn(song: Piece, frame: number, due: number): Ticks {
    const { timeline } = song.compiled
    if (song.look !== undefined) {
      entered = internalPosition(transport, timeline.tempo, frame, rate)
      return entered
    }
    if (transport.source === 'internal') {
      if (!transport.playing || isCountedIn(transport, frame)) return transport.rest
      return arrive(song, internalPosition(transport, timeline.tempo, frame, rate), frame, due)
    }
    const place = followedPosition(song, due)
    const playing = clock().runs(followed(song), due) && !over
    if (playing !== transport.playing) transport = { ...transport, playing }
    return playing
      ? // Asked a frame ahead of the bytes, the follower may come back by a hair; the song does not.
        arrive(song, anew ? place : ticks(Math.max(place, position)), frame, due)
      : over
        ? timeline.length
        : ticks(Math.min(place, timeline.length))
  }

  /** A hand moves the song under the clock that goes on. Returns the new shift. */
  function moveClock(song: Followed, written: Ticks): number {
    const moved = transport.source === 'internal' ? null : clock()
    // Past the end the clock has gone on without the song.
    const here = over && moved ? moved.writtenAt(song, now) : position
    over = false
    if (!moved) return song.shift
    if (moved === pulses) pulses.told()
    if (moved === pulses && !pulses.runs(song, now)) {
      pulses.moveTo({ ...song, shift: 0 }, written)
      return 0
    }
    moved.jump(song, here, written, now)
    return song.shift + written - here
  }

  /** Where the song will be in a frame that is not rendered yet. */
  const placeAt = (song: Piece, frame: number): Ticks =>
    song.look !== undefined || (transport.playing && transport.source === 'internal')
      ? internalPosition(
          transport,
          song.compiled.timeline.tempo,
          Math.max(frame, transport.anchor.frame),
          rate,
        )
      : position

  function arrive(song: Piece, place: Ticks, frame: number, due: number): Ticks {
    const { timeline } = song.compiled
    let here = place
    entered = told ?? place
    told = null
    if (place > position && !anew && repeats(transport, timeline)) {
      const next = minded(transport, timeline, position, place, { frame, rate })
      for (const jump of transport.source === 'internal' ? [] : next.jumps) {
        clock().jump(followed(song), jump.from, jump.to, due + offset())
        transport = { ...transport, shift: transport.shift + jump.to - jump.from }
      }
      here = next.position
      transport = next.state
      // After a repeat the frame also stands for what lies between the repeat's start and where it landed.
      entered = next.jumps.at(-1)?.to ?? here
    }
    if (here < timeline.length) return here
    over = true
    transport = stopped(transport, timeline.length)
    return timeline.length
  }

  /** Where the next frame will be: this one stands for all before it, but not for what lies past a repeat's end. */
  function frameEnd(song: Piece, frame: number, due: number): Ticks {
    const { timeline } = song.compiled
    const next =
      song.look !== undefined || transport.source === 'internal'
        ? internalPosition(transport, timeline.tempo, frame + 1, rate)
        : clock().writtenAt(followed(song), due + 1000 / rate)
    if (next <= position || !repeats(transport, timeline)) return ticks(Math.max(next, position))
    return minded(transport, timeline, position, next, { frame, rate }).jumps[0]?.from ?? next
  }

  function tempo(at: number): { bpm: number; speed: number } {
    if (!piece) return { bpm: 120, speed: 1 }
    const isOwn = piece.look !== undefined || transport.source === 'internal'
    const speed = isOwn ? transport.speed : clock().speed(followed(piece), at)
    return { bpm: bpmAt(piece.compiled.timeline.tempo, position) * speed, speed }
  }

  return {
    get transport() {
      return transport
    },
    midiClock: pulses,
    timecode,
    get position() {
      return position
    },
    get moves() {
      return moves
    },
    get from() {
      return from
    },
    get to() {
      return to
    },
    clockStatus(at) {
      const { source } = transport
      const internal = source === 'internal'
      if (!piece)
        return { source, lock: internal ? 'internal' : 'waiting', bpm: 0, estimated: false, jitter: 0 }
      if (!internal) return clock().status(followed(piece), at)
      return { source, lock: 'internal', bpm: tempo(at).bpm, estimated: false, jitter: 0 }
    },
    tempo,

    take(next, number, at, place = null) {
      const before = piece
      piece = next
      const frame = shifted(number)
      if (before && transport.source === 'midi') pulses.repredict(followed(before), followed(next))
      timecode.startAt(next.startsAt ?? null, at !== undefined)
      if (at !== undefined) {
        const { source } = transport
        // A tempo that was tapped in one song is none of the next one's.
        const speed = before?.song === next.song ? transport.speed : 1
        const look = next.look ?? null
        transport = { ...stoppedTransport(next.song), look, place, source, speed }
        // A look moves from its first frame on.
        if (look !== null) transport = { ...transport, anchor: { frame, songFrame: 0 } }
        position = ticks(Math.min(at, next.compiled.timeline.length))
        transport = { ...transport, rest: position }
        over = false
        moveClocksTo(position)
      } else if (next.look !== undefined) {
        // It stands on, moved as far as it was.
      } else if (transport.playing) {
        // Nothing is counted anew unless the tempo is another: the frames stay on the song's own grid.
        const { tempo } = next.compiled.timeline
        if (before && !sameValue(before.compiled.timeline.tempo, tempo)) {
          transport = anchored(transport, next.compiled.timeline, placeAt(before, frame), { frame, rate })
        }
      } else {
        transport = { ...transport, rest: ticks(Math.min(transport.rest, next.compiled.timeline.length)) }
      }
      transport = { ...transport, song: next.song }
    },

    press(press, at) {
      const frame = pressedAt(press, at)
      if (press.do === 'speed') {
        const here = piece ? placeAt(piece, frame) : position
        transport = { ...transport, speed: press.factor }
        if (piece && !isCountedIn(transport, frame))
          transport = anchored(transport, piece.compiled.timeline, here, { frame, rate })
        return
      }
      if (press.do === 'nudge') {
        const refused =
          transport.source === 'internal' ? undefined : follows(transport.source, 'sets the tempo')
        if (refused) return refused
        const { anchor } = transport
        const isOn = piece?.look !== undefined || (transport.playing && !isCountedIn(transport, frame))
        // What stands has no tempo to be late against.
        if (isOn) {
          const songFrame = anchor.songFrame + (press.ms * rate) / 1000
          // Not before its start.
          const least = -(frame - anchor.frame) * transport.speed
          transport = { ...transport, anchor: { ...anchor, songFrame: Math.max(least, songFrame) } }
        }
        return
      }
      if (press.do === 'clock') {
        transport = { ...stopped(transport, position), source: press.source, shift: 0 }
        over = false
        moveClocksTo(position)
        return
      }
      if (!piece || piece.look !== undefined)
        return problem('engine.noSong', 'no song is chosen', 'transport')
      const next = pressed(press, { transport, position }, piece.compiled.timeline, { frame, rate })
      if ('code' in next) return next
      const shift = press.do === 'locate' ? moveClock(followed(piece), next.position) : transport.shift
      transport = { ...next.transport, shift }
      position = next.position
    },

    midi(byte, at) {
      const heard = parseByte(parser, byte, at)
      parser = heard.parser
      if (!heard.message) return
      pulses.hear(heard.message, piece && followed(piece))
      timecode.hear(heard.message, piece && followed(piece))
    },

    setRate(next, frame) {
      const here = piece ? placeAt(piece, shifted(frame)) : position
      rate = next
      if (piece)
        transport = anchored(transport, piece.compiled.timeline, here, { frame: shifted(frame), rate })
    },

    resume(state) {
      rate = state.rate
      transport = state.transport
      pulses.resume(state.follower)
      timecode.resume(state.timecode)
      position = transport.rest
      anew = true
    },

    hears(source, at) {
      if (!piece) return false
      const own = source === 'mtc' ? timecode : pulses
      const { lock, estimated } = own.status(followed(piece), at)
      return own.runs(followed(piece), at) && lock === 'locked' && !estimated
    },

    mirror(next) {
      transport = next
      if (!next.playing) position = next.rest
      if (piece && next.source !== 'internal') clock().step(followed(piece), now)
      told = null
      over = false
      anew = true
    },

    get lightOffset() {
      return offset()
    },
    get pace() {
      if (!piece) return 1
      if (piece.look !== undefined || transport.source === 'internal') return transport.speed
      // A followed tempo trembles: to whole percents, so that a strobe at the limit does not tremble with it.
      return Math.max(0.01, Math.round(100 * clock().speed(followed(piece), now)) / 100)
    },

    step(number, time) {
      if (!piece) return
      const frame = shifted(number)
      const due = time - offset()
      now = due
      position = placeIn(piece, frame, due)
      anew = false
      const reached = to
      moves = piece.look !== undefined || (transport.playing && !isCountedIn(transport, frame))
      from = moves ? ticks(Math.min(entered, position)) : position
      to = moves ? frameEnd(piece, frame, due) : position
      // A clock that is followed is not to the hair where it was foreseen: what lies between is in one frame, and once.
      if (Math.abs(from - reached) < (to - from) / 2) from = reached
    },
  }
}
