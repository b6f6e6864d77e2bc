// One cue track at one frame: the cues that meet it, laid over each other as one layer.

import { secondsAt } from '../time/tempo.ts'
import type { Ticks } from '../time/units.ts'
import type { CompiledCue, CompiledSong, CompiledTrack } from './compiled.ts'
import { curveAt, setShare } from './fade.ts'
import { its, type Now } from './now.ts'
import { paint } from './paint.ts'
import type { Scratch } from './scratch.ts'

/**
 * Renders a track's layer into `scratch.layer` and its weight into `its.weight`; false when no cue meets the frame.
 *
 * The cues are found by search, not by memory of the frame before. Where a cue that begins and ends inside the frame
 * meets another in it, the brighter shows, so that neither hit is lost. Any other cue that begins takes the place of
 * one that ends.
 */
export function renderTrack(song: CompiledSong, track: CompiledTrack, scratch: Scratch): boolean {
  const { now } = scratch
  const end = countStarted(track.start, now)
  let first = end
  while (first > 0 && track.reach[first - 1]! > now[its.from]!) first--
  let any = false
  let hit = false
  for (let i = first; i < end; i++) {
    const cue = track.cues[i]!
    if (cue.end <= now[its.from]!) continue
    setSpan(song, cue, now)
    setShare(cue, now)
    // A mask's own light is not dimmed: its weight says how much of the mask there is.
    now[its.fade] = track.merge === 'mask' ? 1 : now[its.share]!
    scratch.brighter = any && hit
    setWay(cue, any, track.merge === 'mask', scratch)
    paint(song, song.parts[track.part]!, cue, scratch)
    any = true
    hit ||= cue.start >= now[its.from]! && cue.end <= now[its.to]!
  }
  return any
}

/** How many cues start before the frame ends; at a frame without length, those that have started. */
function countStarted(start: Float64Array, now: Now): number {
  let low = 0
  let high = start.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (start[middle]! < now[its.to]! || start[middle]! <= now[its.from]!) low = middle + 1
    else high = middle
  }
  return low
}

/** Sets the cue's part of the frame. (Branches that store: one that chooses would make a new number of either.) */
function setSpan(song: CompiledSong, cue: CompiledCue, now: Now): void {
  const { tempo } = song.timeline
  if (cue.start < now[its.from]!) {
    now[its.at] = now[its.from]!
    now[its.atSeconds] = now[its.fromSeconds]!
  } else {
    now[its.at] = cue.start
    now[its.atSeconds] = secondsAt(tempo, cue.start as Ticks)
  }
  if (cue.end < now[its.to]!) {
    now[its.until] = cue.end
    now[its.untilSeconds] = secondsAt(tempo, cue.end as Ticks)
  } else {
    now[its.until] = now[its.to]!
    now[its.untilSeconds] = now[its.toSeconds]!
  }
}

/** Sets how the cue comes over what the layer holds, and the weight of the layer with it. */
function setWay(cue: CompiledCue, any: boolean, masks: boolean, { now, brighter }: Scratch): void {
  const share = now[its.share]!
  now[its.keep] = 0
  now[its.gain] = 1
  if (brighter) {
    now[its.weight] = Math.max(now[its.weight]!, share)
  } else if (any && cue.overlap === 'crossfade') {
    const gone = Math.max(now[its.at]!, now[its.until]!) - cue.start
    const gain = curveAt(cue.crossfadeCurve, gone / (cue.crossfadeEnd - cue.start))
    now[its.gain] = gain
    now[its.keep] = 1 - gain
    now[its.weight] = now[its.weight]! * (1 - gain) + share * gain
  } else if (any && cue.overlap === 'over') {
    now[its.keep] = 1 - share
    if (masks) now[its.gain] = share
    now[its.weight] = now[its.weight]! * (1 - share) + share
  } else {
    now[its.weight] = share
  }
}
