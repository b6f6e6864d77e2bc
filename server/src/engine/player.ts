// The engine's heart without its body: the song's course, live state and a compiled song in, levels out; no thread.

import type { Follower } from '@glowchart/shared/clock/follower-state.ts'
import type { Timecode } from '@glowchart/shared/clock/timecode.ts'
import type { TransportState } from '@glowchart/shared/clock/transport.ts'
import { type Problem, problem } from '@glowchart/shared/errors.ts'
import type { ClockStatus, EngineStatus, Resume, TimecodePlace } from '@glowchart/shared/messages.ts'
import { type Check, checkLevels } from '@glowchart/shared/render/check.ts'
import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import type { LevelPlan } from '@glowchart/shared/render/levels.ts'
import {
  freeHouse,
  freshLive,
  type House,
  type Live,
  type LivePatch,
  patchedLive,
} from '@glowchart/shared/render/live.ts'
import type { Ticks } from '@glowchart/shared/time/units.ts'
import { songCourse } from './course.ts'
import type { LoopTransport } from './loop-messages.ts'
import { type Canvas, canvasFor, drawPicture } from './picture.ts'

/** What the player plays: a song or a look, compiled for tonight's kit. Plain data, made on another thread. */
export interface Piece {
  /** Where its first bar lies on a set's time code. */
  readonly startsAt?: Timecode
  readonly song: string | null
  /** The look that stands, in place of a song: it has no place and no end. */
  readonly look?: string
  readonly revision: number
  readonly compiled: CompiledSong
  readonly plan: LevelPlan
}

export interface Player {
  /** The frame rendered last: 512 bytes a universe, in the order of `universes`. */
  readonly levels: Uint8Array
  readonly universes: readonly number[]
  readonly piece: Piece | null
  readonly transport: TransportState
  readonly live: Live
  /** What the house's desk holds. */
  readonly house: House
  /** The venue's limit has made a strobe steady since this was asked last. */
  takeStrobesHeld(): boolean
  /** How late the light is against the clock, ms; below 0 early: `position` is where the light is. */
  readonly lightOffset: number
  readonly follower: Follower
  readonly timecode: TimecodePlace
  /** Written position of the frame rendered last, and whether it moves: a song that is counted in does not. */
  readonly position: Ticks
  readonly moves: boolean
  /** The written span that the frame rendered last stands for, ticks. */
  readonly from: Ticks
  readonly to: Ticks
  /** Seconds of the song that pass in one on the wall. */
  readonly pace: number
  clockStatus(now: number): ClockStatus
  /** See `Course`. */
  tempo(now: number): { bpm: number; speed: number }
  /**
   * Swaps what is played, between two frames. `at`: start there; left out, go on at the same place. `place`: where in
   * tonight's set that is.
   */
  take(piece: Piece, frame: number, at?: number, place?: number | null): void
  press(transport: LoopTransport, frame: number): Problem | undefined
  setLive(patch: LivePatch): void
  setHouse(house: House): void
  /**
   * A line check takes the wire until it is ended, or `until` (ms, monotonic) has passed, or a song plays: the show
   * goes before it. After it the stage stays dark until the transport is pressed. Refused while a song plays.
   */
  setCheck(check: Check | null, until: number): Problem | undefined
  readonly check: EngineStatus['check']
  /** One MIDI byte; `at` in ms of the machine's monotonic clock. */
  midi(byte: number, at: number): void
  setRate(rate: number, frame: number): void
  resume(state: Resume): void
  /** Shows what another laptop shows; the line check is its own. */
  mirror(transport: TransportState, live: Live, house: House): void
  /** Whether we hear such a clock ourselves, it is locked, and knows where the song is; `at` in ms. */
  hears(source: 'midi' | 'mtc', at: number): boolean
  /** Renders frame `frame`, due at `due` ms of the machine's monotonic clock. */
  render(frame: number, due: number): void
}

const NOTHING = new Uint8Array(0)

/** @param firstRate frames a second */
export function createPlayer(firstRate: number): Player {
  const course = songCourse(firstRate)
  let piece: Piece | null = null
  let live = freshLive()
  let house = freeHouse
  let strobesHeld = false
  let canvas: Canvas | null = null
  let sounding = { of: live, live }
  let check: { levels: Check; until: number } | 'dark' | null = null

  /** The live state as it sounds: a song that stands holds the look. */
  function soundingLive(moves: boolean): Live {
    const held = live.hold || !moves
    if (sounding.of !== live || sounding.live.hold !== held)
      sounding = { of: live, live: { ...live, hold: held } }
    return sounding.live
  }

  return {
    get levels() {
      return canvas?.levels ?? NOTHING
    },
    get universes() {
      return piece?.plan.universes ?? []
    },
    get piece() {
      return piece
    },
    get transport() {
      return course.transport
    },
    get live() {
      return live
    },
    get house() {
      return house
    },
    takeStrobesHeld() {
      const held = strobesHeld
      strobesHeld = false
      return held
    },
    get lightOffset() {
      return course.lightOffset
    },
    get follower() {
      return course.midiClock.follower
    },
    get timecode() {
      return course.timecode.place
    },
    get position() {
      return course.position
    },
    get moves() {
      return course.moves
    },
    get from() {
      return course.from
    },
    get to() {
      return course.to
    },
    get pace() {
      return course.pace
    },
    get check() {
      return check === null ? 'off' : check === 'dark' ? 'dark' : 'on'
    },
    clockStatus: course.clockStatus,
    tempo: course.tempo,

    take(next, frame, at, place) {
      piece = next
      canvas = canvasFor(next, canvas)
      course.take(next, frame, at, place)
    },

    press(press, frame) {
      if (check === 'dark') check = null
      return course.press(press, frame)
    },

    setLive(patch) {
      live = patchedLive(live, patch)
    },

    setHouse(next) {
      house = next
    },

    setCheck(next, until) {
      if (next && course.transport.playing) return problem('check.playing', 'a song is playing', 'line check')
      if (next) check = { levels: next, until }
      else if (check) check = 'dark'
    },

    midi: course.midi,
    setRate: course.setRate,

    resume(state) {
      live = state.live
      house = state.house
      course.resume(state)
    },

    hears: course.hears,

    mirror(transport, hands, desk) {
      live = hands
      house = desk
      check = null
      course.mirror(transport)
    },

    render(frame, due) {
      if (!canvas) return
      course.step(frame, due)
      if (course.transport.playing) check = null
      if (check !== null) {
        // The one who held it may be gone: a phone that lost its network leaves no light standing.
        if (check !== 'dark' && due > check.until) check = 'dark'
        if (check === 'dark' || house.blackout) canvas.levels.fill(0)
        else checkLevels(canvas.piece.plan, check.levels, canvas.levels)
        return
      }
      drawPicture(canvas, course.from, course.to, soundingLive(course.moves), house, course.pace)
      strobesHeld ||= canvas.scratch.held
    },
  }
}
