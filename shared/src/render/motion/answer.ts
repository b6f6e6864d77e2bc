// Answer: groups of the part take turns, one calling, the next answering.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import { fraction, type Layout, SNAP } from './layout.ts'
import { passingWindow } from './window.ts'

/**
 * G = max(2, 1 + round(S)) groups of neighbours; group g (0…G − 1 along x) has its window open for D of the cycle
 * from g/G on, edges by shape. D = 1/G hands over without a gap; more overlaps, less leaves rests.
 */
export function answer(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { duty, shape } = cue
  const x = layout.x[cue.direction]
  const phase = now[its.phase]!
  const advance = now[its.advance]!
  const groups = Math.max(2, 1 + Math.round(cue.spread))
  for (let i = 0; i < layout.count; i++) {
    const group = Math.min(groups - 1, Math.floor(x[i]! * groups + SNAP))
    out[i] = passingWindow(fraction(phase - group / groups), advance, duty, shape)
  }
}
