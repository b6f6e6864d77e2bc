// The engine's heart without its body: transport, live state and a compiled song in, levels out; no thread, no socket.

import { follow, placed, repredicted } from '@glowchart/shared/clock/follower.ts'
import {
  type Follower,
  follower as freshFollower,
  type Prediction,
} from '@glowchart/shared/clock/follower-state.ts'
import { midiParser, parseByte } from '@glowchart/shared/clock/parser.ts'
import { positionAt, unknownPosition } from '@glowchart/shared/clock/position.ts'
import {
  anchored,
  internalPosition,
  isCountedIn,
  located,
  minded,
  released,
  repeats,
  started,
  stopped,
  stoppedTransport,
  type TransportState,
} from '@glowchart/shared/clock/transport.ts'
import { type Problem, problem } from '@glowchart/shared/errors.ts'
import type { ClockStatus, EngineStatus, LivePatch, Resume } from '@glowchart/shared/messages.ts'
import { type Check, checkLevels } from '@glowchart/shared/render/check.ts'
import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { type LevelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive, type Live, patchedLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch, type Scratch } from '@glowchart/shared/render/scratch.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import type { LoopTransport } from './loop-messages.ts'

/** What the player plays: a song or a look, compiled for tonight's kit. Plain data, made on another thread. */
export interface Piece {
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
  readonly follower: Follower
  /** Written position of the frame rendered last, and whether it moves: a song that is counted in does not. */
  readonly position: Ticks
  readonly moves: boolean
  clockStatus(now: number): ClockStatus
  /**
   * Swaps what is played, between two frames. `at`: start there; left out, go on at the same place. `place`: where in
   * tonight's set that is.
   */
  take(piece: Piece, frame: number, at?: number, place?: number | null): void
  press(transport: LoopTransport, frame: number): Problem | undefined
  setLive(patch: LivePatch): void
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
  /** Renders frame `frame`, due at `due` ms of the machine's monotonic clock. */
  render(frame: number, due: number): void
}

const NOTHING = new Uint8Array(0)

/** @param firstRate frames a second */
export function createPlayer(firstRate: number): Player {
  let rate = firstRate
  let piece: Piece | null = null
  let transport = stoppedTransport(null)
  let live = freshLive()
  let position = ticks(0)
  let levels = NOTHING
  let light = new Float32Array(0)
  let scratch: Scratch | null = null
  let parser = midiParser
  let clock: Follower = freshFollower(ticks(0))
  let relocations = 0
  /** True once the pulses' song has reached its end, until they are told another place. */
  let over = false
  /** Where the frame's interval begins when it is not the position itself. */
  let entered = ticks(0)
  let sounding = { of: live, live }
  let moves = false
  let check: { levels: Check; until: number } | 'dark' | null = null
  const followed = unknownPosition()

  const predictionOf = (from: Piece): Prediction => ({
    tempo: from.compiled.timeline.tempo,
    shift: transport.shift,
  })
  const moveClockTo = (place: Ticks): void => {
    if (piece) clock = placed(clock, predictionOf(piece), ticks(place - transport.shift))
    relocations = clock.relocations
  }

  /** The written position on MIDI clock; the follower's own relocations undo whatever jumps had been made. */
  function followedPosition(song: Piece, due: number): Ticks {
    if (clock.relocations !== relocations) {
      relocations = clock.relocations
      transport = { ...transport, shift: 0, released: null }
      over = false
      position = ticks(positionAt(clock, predictionOf(song), due, followed).ticks)
    }
    positionAt(clock, predictionOf(song), due, followed)
    return ticks(followed.ticks + transport.shift)
  }

  /** Where the song is in this frame; loops and vamps are minded, the song's end stops it. */
  function step(song: Piece, frame: number, due: number): Ticks {
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
    const playing = followed.running && !over
    if (playing !== transport.playing) transport = { ...transport, playing }
    return playing
      ? // Asked a frame ahead of the pulses, the follower may come back by a hair; the song does not.
        arrive(song, ticks(Math.max(place, position)), frame, due)
      : over
        ? timeline.length
        : ticks(Math.min(place, timeline.length))
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
    entered = place
    if (place > position && repeats(transport, timeline)) {
      const next = minded(transport, timeline, position, place, { frame, rate })
      if (transport.source === 'midi' && next.jumps.length > 0) {
        const to = { tempo: timeline.tempo, shift: next.state.shift }
        clock = repredicted(clock, predictionOf(song), to, due)
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
        : ticks(positionAt(clock, predictionOf(song), due + 1000 / rate, followed).ticks + transport.shift)
    if (next <= position || !repeats(transport, timeline)) return ticks(Math.max(next, position))
    return minded(transport, timeline, position, next, { frame, rate }).jumps[0]?.from ?? next
  }

  /** The live state as it sounds: a song that stands holds the look. */
  function soundingLive(moves: boolean): Live {
    const held = live.hold || !moves
    if (sounding.of !== live || sounding.live.hold !== held)
      sounding = { of: live, live: { ...live, hold: held } }
    return sounding.live
  }

  return {
    get levels() {
      return levels
    },
    get universes() {
      return piece?.plan.universes ?? []
    },
    get piece() {
      return piece
    },
    get transport() {
      return transport
    },
    get live() {
      return live
    },
    get follower() {
      return clock
    },
    get position() {
      return position
    },
    get moves() {
      return moves
    },
    get check() {
      return check === null ? 'off' : check === 'dark' ? 'dark' : 'on'
    },
    clockStatus(now) {
      const internal = transport.source === 'internal'
      if (!piece)
        return {
          source: transport.source,
          lock: internal ? 'internal' : 'waiting',
          bpm: 0,
          estimated: false,
          jitter: 0,
        }
      if (internal) {
        const bpm = bpmAt(piece.compiled.timeline.tempo, position) * transport.speed
        return { source: 'internal', lock: 'internal', bpm, estimated: false, jitter: 0 }
      }
      const { bpm, lock, estimated, jitterMs } = positionAt(clock, predictionOf(piece), now, followed)
      return { source: 'midi', lock, bpm, estimated, jitter: jitterMs }
    },

    take(next, frame, at, place = null) {
      const before = piece
      piece = next
      scratch = renderScratch(next.compiled)
      if (light.length !== next.compiled.stage.cells * 3)
        light = new Float32Array(next.compiled.stage.cells * 3)
      if (levels.length !== next.plan.universes.length * 512)
        levels = new Uint8Array(next.plan.universes.length * 512)
      if (before && transport.source === 'midi') {
        clock = repredicted(clock, predictionOf(before), predictionOf(next), clock.now)
      }
      if (at !== undefined) {
        const { source, speed } = transport
        const look = next.look ?? null
        transport = { ...stoppedTransport(next.song), look, place, source, speed }
        // A look moves from its first frame on.
        if (look !== null) transport = { ...transport, anchor: { frame, songFrame: 0 } }
        position = ticks(Math.min(at, next.compiled.timeline.length))
        transport = { ...transport, rest: position }
        over = false
        moveClockTo(position)
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

    press(press, frame) {
      if (check === 'dark') check = null
      if (press.do === 'speed') {
        const here = piece ? placeAt(piece, frame) : position
        transport = { ...transport, speed: press.factor }
        if (piece && !isCountedIn(transport, frame))
          transport = anchored(transport, piece.compiled.timeline, here, { frame, rate })
        return
      }
      if (press.do === 'clock') {
        transport = { ...stopped(transport, position), source: press.source, shift: 0 }
        over = false
        moveClockTo(position)
        return
      }
      if (!piece || piece.look !== undefined)
        return problem('engine.noSong', 'no song is chosen', 'transport')
      const { timeline } = piece.compiled
      const now = { frame, rate }
      switch (press.do) {
        case 'play':
          if (transport.source === 'midi')
            return problem('transport.follows', 'the MIDI clock starts the song', 'transport')
          if (!transport.playing) {
            transport = started(transport, timeline, now, press.after)
            position = isCountedIn(transport, frame)
              ? transport.rest
              : internalPosition(transport, timeline.tempo, frame, rate)
          }
          return
        case 'stop':
          if (transport.source === 'midi')
            return problem('transport.follows', 'the MIDI clock stops the song', 'transport')
          transport = stopped(transport, position)
          return
        case 'locate': {
          if (press.at > timeline.length) {
            return problem('transport.place', `tick ${press.at} lies past the end of the song`, 'transport')
          }
          transport = located(transport, timeline, ticks(press.at), position, now)
          position = ticks(press.at)
          over = false
          if (transport.source === 'midi' && !isRunning(clock)) {
            transport = { ...transport, shift: 0 }
            moveClockTo(position)
          }
          return
        }
        case 'loop': {
          const { span } = press
          if (span && (span.to - span.from < 1 || span.to > timeline.length)) {
            return problem(
              'transport.place',
              'a loop needs a start and a later end inside the song',
              'transport',
            )
          }
          const once = span?.once ? { once: true } : {}
          transport = { ...transport, loop: span && { from: ticks(span.from), to: ticks(span.to), ...once } }
          return
        }
        case 'release':
          transport = released(transport, timeline, position)
      }
    },

    setLive(patch) {
      live = patchedLive(live, patch)
    },

    setCheck(next, until) {
      if (next && transport.playing) return problem('check.playing', 'a song is playing', 'line check')
      if (next) check = { levels: next, until }
      else if (check) check = 'dark'
    },

    midi(byte, at) {
      const heard = parseByte(parser, byte, at)
      parser = heard.parser
      if (heard.message && piece) clock = follow(clock, predictionOf(piece), heard.message)
    },

    setRate(next, frame) {
      const here = piece ? placeAt(piece, frame) : position
      rate = next
      if (piece) transport = anchored(transport, piece.compiled.timeline, here, { frame, rate })
    },

    resume(state) {
      rate = state.rate
      transport = state.transport
      live = state.live
      clock = state.follower
      relocations = clock.relocations
      position = transport.rest
    },

    render(frame, due) {
      if (!piece || !scratch) return
      const { compiled, plan } = piece
      position = step(piece, frame, due)
      moves = piece.look !== undefined || (transport.playing && !isCountedIn(transport, frame))
      const from = moves ? ticks(Math.min(entered, position)) : position
      const to = moves ? frameEnd(piece, frame, due) : position
      if (transport.playing) check = null
      if (check !== null) {
        // The one who held it may be gone: a phone that lost its network leaves no light standing.
        if (check !== 'dark' && due > check.until) check = 'dark'
        if (check === 'dark') levels.fill(0)
        else checkLevels(plan, check.levels, levels)
        return
      }
      const sounds = soundingLive(moves)
      renderLight(compiled, from, to, sounds, scratch, light)
      applyLimits(compiled, sounds, light)
      toLevels(plan, light, levels)
    },
  }
}

const isRunning = (clock: Follower): boolean => clock.mode === 'running'
