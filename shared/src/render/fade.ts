// Fades: how much of a cue there is, from its start to its end.

import type { Curve } from '../show/song.ts'
import type { CompiledCue } from './compiled.ts'
import { its, type Now } from './now.ts'

/** Places in a frame that are looked at where a fade in and a fade out overlap. */
const LOOKS = 16

/**
 * How far a fade has gone (0…1) after `progress` (0…1) of its time; never falls. `even`: even in L*; `soft`: slow at
 * both ends; `early`: most of it soon; `late`: most of it at the end.
 */
export function curveAt(curve: Curve, progress: number): number {
  const p = Math.min(1, Math.max(0, progress))
  switch (curve) {
    case 'even':
      return p
    case 'soft':
      return p * p * (3 - 2 * p)
    case 'early':
      return p * (2 - p)
    case 'late':
      return p * p
  }
}

/**
 * Sets `its.share`: the most that the fades let through of a cue (0…1, on the L* scale) in its part of the frame. So a
 * fade in is seen as far as it comes in the frame, a fade out from where it stood, and a hit shorter than a frame at its
 * height.
 */
export function setShare(cue: CompiledCue, now: Now): void {
  const { start, end, fadeIn, fadeOut } = cue
  now[its.share] = 1
  if (fadeIn.length === 0 && fadeOut.length === 0) return
  const from = now[its.at]!
  const to = Math.max(from, now[its.until]!)
  // The greatest share lies where the fade in is over or the fade out begins, whichever comes first, or nearest to it.
  const risen = Math.min(to, Math.max(from, start - fadeIn.cut + fadeIn.length))
  const falling = Math.min(to, Math.max(from, end + fadeOut.cut - fadeOut.length))
  const share = Math.max(fadeAt(cue, risen), fadeAt(cue, falling))
  now[its.share] = share
  // Fades that overlap have it somewhere between.
  for (let i = 1; falling < risen && i < LOOKS; i++) {
    now[its.share] = Math.max(now[its.share]!, fadeAt(cue, falling + ((risen - falling) * i) / LOOKS))
  }
}

function fadeAt({ start, end, fadeIn, fadeOut }: CompiledCue, at: number): number {
  const risen = fadeIn.length > 0 ? curveAt(fadeIn.curve, (at - start + fadeIn.cut) / fadeIn.length) : 1
  if (fadeOut.length === 0) return risen
  const left = end + fadeOut.cut - at
  return risen * (1 - curveAt(fadeOut.curve, 1 - left / fadeOut.length))
}
