// Ring: as from a drop in water, waves run from the middle of the part outward.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import { fraction, type Layout } from './layout.ts'
import { passingWindow } from './window.ts'

/** Outward for the directions forward and outward, inward for backward and inward. */
const OUTWARD = [2, 3, 2, 3] as const
/** How bright the second wave is beside the first. */
const ECHO = 0.5

/**
 * r = |2x − 1|, 0 in the middle and 1 at both ends (forward and outward; backward and inward: 1 − r);
 * u = frac(P − S·r). m is a window that opens at u = 0, D/2 wide, edges by shape, or half of a second one right behind
 * it: the greater of the two.
 */
export function ring(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { spread, duty, shape } = cue
  const outward = layout.x[OUTWARD[cue.direction]]
  const phase = now[its.phase]!
  const advance = now[its.advance]!
  for (let i = 0; i < layout.count; i++) {
    out[i] = ringAt(fraction(phase - spread * outward[i]!), advance, duty, shape)
  }
}

/** One cycle of it, for the mean as well. */
export function ringAt(u: number, advance: number, duty: number, shape: number): number {
  const first = passingWindow(u, advance, duty / 2, shape)
  return Math.max(first, ECHO * passingWindow(fraction(u - duty / 2 + 1), advance, duty / 2, shape))
}
