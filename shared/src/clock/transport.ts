// The transport: which song, whether it plays, and where; a value and pure steps, on frame numbers instead of time.

import { advance, type Jump } from '../time/played.ts'
import { secondsAt, type TempoMap, ticksAt } from '../time/tempo.ts'
import { sectionAt, type Timeline } from '../time/timeline.ts'
import { seconds, type Ticks, ticks } from '../time/units.ts'

/**
 * On the internal clock, frame n of the engine is frame `anchor.songFrame + (n − anchor.frame) × speed` of the song,
 * and song frame k lies at k / rate seconds: whole numbers stay whole, so a live frame is the offline frame.
 * On MIDI clock the follower gives the played position, and `shift` takes it to the written one. On time code the
 * follower gives the written position itself.
 */
export interface TransportState {
  readonly song: string | null
  /** The look that stands in place of a song: on the internal clock, whatever the source. */
  readonly look: string | null
  /** Index in tonight's set. */
  readonly place: number | null
  readonly playing: boolean
  readonly source: 'internal' | 'midi' | 'mtc'
  /** Factor on the song's tempo while the internal clock runs. */
  readonly speed: number
  /** Repeats [from, to), ticks from the song's start; `once`: it is lifted when it has gone back. */
  readonly loop: { readonly from: Ticks; readonly to: Ticks; readonly once?: boolean } | null
  /** The start of the last repeat that was taken, and how many times in a row it was. */
  readonly repeated: { readonly from: Ticks; readonly times: number } | null
  /** Id of the vamp that is to be left at its next end. */
  readonly released: string | null
  readonly anchor: { readonly frame: number; readonly songFrame: number }
  /** Written position minus played position, in ticks; changed by every jump. */
  readonly shift: number
  /** Written position while stopped, in ticks. */
  readonly rest: Ticks
}

export const stoppedTransport = (song: string | null): TransportState => ({
  song,
  look: null,
  place: null,
  playing: false,
  source: 'internal',
  speed: 1,
  loop: null,
  repeated: null,
  released: null,
  anchor: { frame: 0, songFrame: 0 },
  shift: 0,
  rest: ticks(0),
})

/** Frames of the engine: the one now, and how many a second. */
export interface FrameTime {
  readonly frame: number
  /** Frames a second. */
  readonly rate: number
}

/** What is left of a float's rounding after a division and a product; far below a tick. */
const ROUNDING = 1e-7

/** The first song frame at or after a written position. */
export function songFrameAt(tempo: TempoMap, position: Ticks, rate: number): number {
  return Math.ceil(secondsAt(tempo, position) * rate - ROUNDING)
}

/** Written position of an engine frame on the internal clock, before loops and vamps are minded. */
export function internalPosition(state: TransportState, tempo: TempoMap, frame: number, rate: number): Ticks {
  const songFrame = state.anchor.songFrame + (frame - state.anchor.frame) * state.speed
  return ticksAt(tempo, seconds(songFrame / rate))
}

/**
 * Starts the song from where it rests (from its start, if it rests at its end), on the first frame of its own grid.
 * @param after seconds in which it is counted in: it moves from the first frame at or after them
 */
export function started(state: TransportState, song: Timeline, now: FrameTime, after = 0): TransportState {
  const from = state.rest >= song.length ? ticks(0) : state.rest
  const frame = now.frame + Math.ceil(after * now.rate - ROUNDING)
  return {
    ...state,
    playing: true,
    released: null,
    repeated: null,
    rest: from,
    anchor: { frame, songFrame: songFrameAt(song.tempo, from, now.rate) },
  }
}

/** True while a song on the internal clock is counted in: it rests, although it plays. */
export const isCountedIn = (state: TransportState, frame: number): boolean =>
  state.playing && state.source === 'internal' && frame < state.anchor.frame

/** Stops at a written position; the look stays. */
export const stopped = (state: TransportState, position: Ticks): TransportState => ({
  ...state,
  playing: false,
  rest: position,
})

/**
 * Goes to a written position, playing or not. On MIDI clock the played position goes on as before, and `shift` takes
 * up the difference.
 * @param here the written position now
 */
export function located(
  state: TransportState,
  song: Timeline,
  to: Ticks,
  here: Ticks,
  now: FrameTime,
): TransportState {
  return {
    ...state,
    rest: to,
    released: null,
    repeated: null,
    shift: state.shift + (to - here),
    anchor: { frame: now.frame, songFrame: songFrameAt(song.tempo, to, now.rate) },
  }
}

/** The same place counted from now: after a change of speed, of the frame rate, or of the song's tempo. */
export function anchored(state: TransportState, song: Timeline, here: Ticks, now: FrameTime): TransportState {
  const songFrame = secondsAt(song.tempo, here) * now.rate
  const whole = Math.round(songFrame)
  const onGrid = Math.abs(songFrame - whole) < ROUNDING
  return { ...state, anchor: { frame: now.frame, songFrame: onGrid ? whole : songFrame } }
}

/** Leaves the vamp that sounds at `here` at its next end; nothing elsewhere. */
export function released(state: TransportState, song: Timeline, here: Ticks): TransportState {
  const section = sectionAt(song, here)
  return section?.vamp ? { ...state, released: section.id } : state
}

/** True when this song can repeat anything: only then a frame's step needs `minded`. */
export const repeats = (state: TransportState, song: Timeline): boolean =>
  state.loop !== null || song.sections.some(section => section.vamp)

/**
 * Minds loops and vamps on a step of the written position from `before` to `after`: when the step passes the end of
 * one, the state goes on inside it and the jumps say so.
 */
export function minded(
  state: TransportState,
  song: Timeline,
  before: Ticks,
  after: Ticks,
  now: FrameTime,
): { state: TransportState; position: Ticks; jumps: readonly Jump[] } {
  const step = advance({ written: before, played: ticks(before - state.shift) }, ticks(after - before), {
    loop: state.loop,
    sections: song.sections,
    released: state.released,
  })
  if (step.jumps.length === 0) {
    const still = step.released === state.released ? state : { ...state, released: step.released }
    return { state: still, position: after, jumps: step.jumps }
  }
  const { written } = step.position
  const moved = {
    ...state,
    released: step.released,
    shift: state.shift + (written - after),
    loop: state.loop?.once && step.jumps.some(jump => jump.from === state.loop!.to) ? null : state.loop,
    repeated: step.jumps.reduce(counted, state.repeated),
  }
  return { state: anchored(moved, song, written, now), position: written, jumps: step.jumps }
}

const counted = (before: TransportState['repeated'], { to }: Jump): TransportState['repeated'] =>
  before?.from === to ? { from: to, times: before.times + 1 } : { from: to, times: 1 }
