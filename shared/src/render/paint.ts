// Painting one cue onto its track's layer: its level and phase, its motion or the mean of it, its light.

import type { CompiledCue, CompiledPart, CompiledSong } from './compiled.ts'
import { layMean, layMotion, setColour } from './elements.ts'
import { SNAP } from './motion/layout.ts'
import { move } from './motion/motion.ts'
import { tooFast } from './motion/strobe.ts'
import { its, type Now } from './now.ts'
import type { Scratch } from './scratch.ts'

/** Paints a cue. Light of an element = its colour × Y, Y the luminance of level × fades × motion. */
export function paint(song: CompiledSong, part: CompiledPart, cue: CompiledCue, scratch: Scratch): void {
  const layout = cue.byCell ? part.cellLayout : part.fixtureLayout
  setLevel(cue, scratch.now)
  setPhase(cue, scratch.now)
  setColour(cue, scratch)
  if (showsMean(cue, scratch)) {
    layMean(cue, layout, scratch)
  } else {
    move(scratch.motion, layout, cue, scratch.now, song.timeline.tempo)
    layMotion(cue, layout, scratch)
  }
}

/**
 * The level with its fades, where the cue's part of the frame begins: even in L* between two points, and the last of
 * several at one place. A higher point inside that part shows, so that a peak between two frames is not lost.
 */
function setLevel({ level, pointAt, pointLevel }: CompiledCue, now: Now): void {
  const count = pointAt.length
  now[its.level] = level * now[its.fade]!
  if (count === 0) return
  const at = now[its.at]!
  let next = 0
  while (next < count && pointAt[next]! <= at) next++
  const before = pointLevel[Math.max(0, next - 1)]!
  const after = pointLevel[Math.min(next, count - 1)]!
  const inside = next > 0 && next < count
  const gone = inside ? (at - pointAt[next - 1]!) / (pointAt[next]! - pointAt[next - 1]!) : 0
  let most = before + (after - before) * gone
  for (; next < count && pointAt[next]! < now[its.until]!; next++) most = Math.max(most, pointLevel[next]!)
  now[its.level] = level * now[its.fade]! * most
}

/** Cycles since the cue's origin: by ticks, or by the song's own seconds, so that position alone decides. */
function setPhase(cue: CompiledCue, now: Now): void {
  if (cue.period > 0) {
    now[its.phase] = (now[its.at]! - cue.origin) / cue.period
    now[its.advance] = (now[its.until]! - now[its.at]!) / cue.period
    now[its.end] = (now[its.until]! - cue.origin) / cue.period
    now[its.frameCycles] = (now[its.to]! - now[its.from]!) / cue.period
  } else {
    now[its.phase] = (now[its.atSeconds]! - cue.originSeconds) * cue.hz
    now[its.advance] = (now[its.untilSeconds]! - now[its.atSeconds]!) * cue.hz
    now[its.end] = (now[its.untilSeconds]! - cue.originSeconds) * cue.hz
    now[its.frameCycles] = (now[its.toSeconds]! - now[its.fromSeconds]!) * cue.hz
  }
  now[its.phase]! += SNAP
  now[its.advance] = Math.max(0, now[its.advance]! - 2 * SNAP)
}

function showsMean(cue: CompiledCue, scratch: Scratch): boolean {
  const { now, steady, calm } = scratch
  if (cue.mean.length === 0) return false
  if (cue.kind !== 'strobe') return (steady && cue.kind === 'pulse') || now[its.advance]! >= 1
  if (steady || calm || tooFast(now[its.frameCycles]!)) return true
  if (now[its.frameCycles]! <= now[its.mostCycles]!) return false
  scratch.held = true
  return true
}
