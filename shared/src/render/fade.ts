// Fades: how much of a cue there is, from its start to its end.

import type { Curve } from '../show/song.ts'
import type { CompiledCue } from './compiled.ts'

/** Places in a frame at which a fade is looked at when its greatest value is wanted. */
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

/** The fades' share (0…1, on the L* scale) of a cue at a position in ticks. */
export function fadeAt({ start, end, fadeIn, fadeOut }: CompiledCue, at: number): number {
  const risen = fadeIn.length > 0 ? curveAt(fadeIn.curve, (at - start + fadeIn.cut) / fadeIn.length) : 1
  if (fadeOut.length === 0) return risen
  const left = end + fadeOut.cut - at
  return risen * (1 - curveAt(fadeOut.curve, 1 - left / fadeOut.length))
}

/** The greatest share of the fades between two positions: what a cue shows in the frame it starts in. */
export function greatestFade(cue: CompiledCue, from: number, to: number): number {
  const { start, end, fadeIn, fadeOut } = cue
  if (fadeIn.length === 0 && fadeOut.length === 0) return 1
  // In full where the fade in is over and the fade out has not begun; the rest is for fades that overlap.
  const full = Math.min(to, Math.max(from, start - fadeIn.cut + fadeIn.length))
  const last = Math.min(to, Math.max(from, end + fadeOut.cut - fadeOut.length))
  let greatest = Math.max(fadeAt(cue, full), fadeAt(cue, last))
  for (let i = 0; i <= LOOKS; i++) {
    const share = fadeAt(cue, from + ((to - from) * i) / LOOKS)
    if (share > greatest) greatest = share
  }
  return greatest
}
