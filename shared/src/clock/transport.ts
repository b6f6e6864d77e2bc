// The transport: which song, whether it plays, and where; a value and pure steps, on frame numbers instead of time.

import { ticksAt, secondsAt, type TempoMap } from '../time/tempo.ts'
import { seconds, ticks, type Ticks } from '../time/units.ts'

export interface Span {
  readonly from: number
  readonly to: number
}

/** What the transport must know of the song: its tempo, its end, and where its vamps are. Ticks from its start. */
export interface SongShape {
  readonly tempo: TempoMap
  readonly length: number
  readonly vamps: readonly Span[]
}

/**
 * On the internal clock, frame n of the engine is frame `anchor.songFrame + (n − anchor.frame) × speed` of the song,
 * and song frame k lies at k / rate seconds: whole numbers stay whole, so a live frame is the offline frame.
 * On MIDI clock the follower gives the played position, and `shift` takes it to the written one.
 */
export interface TransportState {
  readonly song: string | null
  readonly playing: boolean
  readonly source: 'internal' | 'midi'
  readonly speed: number
  readonly loop: Span | null
  /** The vamp that plays is to be left at its next end. */
  readonly released: boolean
  readonly anchor: { readonly frame: number; readonly songFrame: number }
  /** Written position minus played position, in ticks; changed by every jump. */
  readonly shift: number
  /** Written position while stopped, in ticks. */
  readonly rest: number
}

export const stoppedTransport = (song: string | null): TransportState => ({
  song,
  playing: false,
  source: 'internal',
  speed: 1,
  loop: null,
  released: false,
  anchor: { frame: 0, songFrame: 0 },
  shift: 0,
  rest: 0,
})

/** A float that is whole but for rounding counts as whole: 12 digits are far below a tick and far above the error. */
const wholeAbove = (x: number): number => Math.ceil(x - 1e-7)

/**
 * The first song frame at or after a written position.
 * @param rate frames a second
 */
export function songFrameAt(tempo: TempoMap, position: number, rate: number): number {
  return wholeAbove(secondsAt(tempo, ticks(position)) * rate)
}

/** Written position of engine frame `frame` on the internal clock, before loops and vamps are minded. */
export function internalPosition(state: TransportState, song: SongShape, frame: number, rate: number): Ticks {
  const songFrame = state.anchor.songFrame + (frame - state.anchor.frame) * state.speed
  return ticksAt(song.tempo, seconds(songFrame / rate))
}

/**
 * The span whose end lies between two positions of a song that moves on: the loop if one is set, else a vamp that
 * has not been released. Null when the song just goes on.
 */
export function crossed(state: TransportState, song: SongShape, before: number, after: number): Span | null {
  const ends = (span: Span): boolean => before >= span.from && before < span.to && after >= span.to
  if (state.loop) return ends(state.loop) ? state.loop : null
  if (state.released) return null
  for (const vamp of song.vamps) if (ends(vamp)) return vamp
  return null
}

/** True while `position` lies in a vamp: releasing means something only there. */
export function inVamp(song: SongShape, position: number): boolean {
  for (const vamp of song.vamps) if (position >= vamp.from && position < vamp.to) return true
  return false
}

/** Starts the song moving at `frame` from where it rests, on the first frame of the song's own grid. */
export function played(state: TransportState, song: SongShape, frame: number, rate: number): TransportState {
  const from = state.rest >= song.length ? 0 : state.rest
  return {
    ...state,
    playing: true,
    released: false,
    anchor: { frame, songFrame: songFrameAt(song.tempo, from, rate) },
  }
}

/** Stops at a written position; the look stays. */
export function stopped(state: TransportState, position: number): TransportState {
  return { ...state, playing: false, rest: position }
}

/**
 * Moves to a written position, playing or not. On MIDI clock the played position goes on as before and `shift`
 * takes up the difference.
 * @param now the written position now
 */
export function located(
  state: TransportState,
  song: SongShape,
  to: number,
  now: number,
  frame: number,
  rate: number,
): TransportState {
  const place = Math.min(Math.max(0, to), song.length)
  return {
    ...state,
    rest: place,
    released: false,
    shift: state.shift + (place - now),
    anchor: { frame, songFrame: songFrameAt(song.tempo, place, rate) },
  }
}

/** The same place in time when the song frame need not be whole: after a wrap, a speed change or an edit of the tempo. */
export function anchored(
  state: TransportState,
  song: SongShape,
  position: number,
  frame: number,
  rate: number,
): TransportState {
  const songFrame = secondsAt(song.tempo, ticks(position)) * rate
  const near = Math.round(songFrame)
  return { ...state, anchor: { frame, songFrame: Math.abs(songFrame - near) < 1e-7 ? near : songFrame } }
}

/**
 * The wrap at the end of `span`: the jump is kept in `shift`, and the internal clock goes on from inside the span,
 * as far past its start as it was past its end (a long gap may be several rounds).
 */
export function repeated(
  state: TransportState,
  song: SongShape,
  span: Span,
  position: number,
  frame: number,
  rate: number,
): TransportState {
  const to = span.from + ((position - span.from) % (span.to - span.from))
  return anchored({ ...state, shift: state.shift + (to - position) }, song, to, frame, rate)
}
