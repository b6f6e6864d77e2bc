// One cue track at one frame: the cues that meet it, laid over each other as one layer.

import { secondsAt } from '../time/tempo.ts'
import type { Ticks } from '../time/units.ts'
import type { CompiledCue, CompiledSong, CompiledTrack, Frame } from './compiled.ts'
import { curveAt, fadeAt, greatestFade } from './fade.ts'
import { paint } from './paint.ts'
import type { Scratch } from './scratch.ts'

/**
 * Renders a track's layer into `scratch.layer` and `scratch.layerWeight`; false when no cue meets the frame.
 * `steady` and `calm` as in `paint`.
 *
 * The cues are found by search, not by memory of the frame before. A cue that begins inside the frame shows the most
 * that its fades let through until the frame ends, so that a hit shorter than a frame is seen; where such a hit meets
 * another cue in one frame, the brighter shows. Any other cue that begins takes the place of one that ends.
 */
export function renderTrack(
  song: CompiledSong,
  track: CompiledTrack,
  steady: boolean,
  calm: boolean,
  scratch: Scratch,
): boolean {
  const { frame } = scratch
  const end = countStarted(track.start, frame)
  let first = end
  while (first > 0 && track.reach[first - 1]! > frame.from) first--
  let any = false
  let hit = false
  for (let i = first; i < end; i++) {
    const cue = track.cues[i]!
    if (cue.end <= frame.from) continue
    setStroke(song, cue, track.merge === 'mask', any, hit, scratch)
    paint(song, song.parts[track.part]!, cue, steady, calm, scratch)
    any = true
    hit ||= cue.start >= frame.from && cue.end <= frame.to
  }
  return any
}

/** How many cues start before the frame ends; at a frame without length, those that have started. */
function countStarted(start: Float64Array, { from, to }: Frame): number {
  let low = 0
  let high = start.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (start[middle]! < to || start[middle]! <= from) low = middle + 1
    else high = middle
  }
  return low
}

/** Sets the cue's part of the frame, its fades, and how it comes over what the layer holds. */
function setStroke(
  song: CompiledSong,
  cue: CompiledCue,
  masks: boolean,
  any: boolean,
  hit: boolean,
  scratch: Scratch,
): void {
  const { frame, stroke } = scratch
  const { tempo } = song.timeline
  const begins = cue.start >= frame.from
  stroke.at = begins ? cue.start : frame.from
  stroke.atSeconds = begins ? secondsAt(tempo, cue.start as Ticks) : frame.fromSeconds
  const ends = cue.end < frame.to
  stroke.until = ends ? cue.end : frame.to
  stroke.untilSeconds = ends ? secondsAt(tempo, cue.end as Ticks) : frame.toSeconds

  const share = begins
    ? greatestFade(cue, stroke.at, Math.max(stroke.at, stroke.until))
    : fadeAt(cue, stroke.at)
  // A mask's own light is not dimmed: its weight says how much of the mask there is.
  stroke.fade = masks ? 1 : share
  stroke.greater = any && hit
  stroke.keep = 0
  stroke.gain = 1
  let weight = share
  if (stroke.greater) {
    weight = Math.max(scratch.layerWeight, share)
  } else if (any && cue.overlap === 'crossfade') {
    const seen = begins ? stroke.until : stroke.at
    stroke.gain = curveAt(cue.crossfadeCurve, (seen - cue.start) / (cue.crossfadeEnd - cue.start))
    stroke.keep = 1 - stroke.gain
    weight = scratch.layerWeight * stroke.keep + share * stroke.gain
  } else if (any && cue.overlap === 'over') {
    stroke.keep = 1 - share
    if (masks) stroke.gain = share
    weight = scratch.layerWeight * stroke.keep + share
  }
  scratch.layerWeight = weight
}
