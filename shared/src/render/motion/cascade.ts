// Cascade: light falls along the part, faster and faster, and leaves a tail.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import { fraction, type Layout, travel } from './layout.ts'
import { passingFall } from './window.ts'

/**
 * u = frac(P − T·√x): a body that falls from rest has fallen x after √x of its time. m is the fall of an attack at
 * u = 0 (`fallAt`) over D of the cycle: the tail. T as in the chase.
 */
export function cascade(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { duty, shape } = cue
  const x = layout.x[cue.direction]
  const phase = now[its.phase]!
  const advance = now[its.advance]!
  const along = travel(cue.spread, duty, layout.cyclic)
  for (let i = 0; i < layout.count; i++) {
    out[i] = passingFall(fraction(phase - along * Math.sqrt(x[i]!)), advance, duty, shape)
  }
}
