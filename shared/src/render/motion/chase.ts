// Chase: windows of light run along the part.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import { fraction, type Layout, travel } from './layout.ts'
import { passingWindow } from './window.ts'

/**
 * u = frac(P − T·x): the window opens at u = 0 and stays open for D of the cycle, with edges by shape; T is the
 * travel of S windows along the part (`travel`).
 */
export function chase(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { duty, shape } = cue
  const x = layout.x[cue.direction]
  const phase = now[its.phase]!
  const advance = now[its.advance]!
  const along = travel(cue.spread, duty, layout.cyclic)
  for (let i = 0; i < layout.count; i++) {
    out[i] = passingWindow(fraction(phase - along * x[i]!), advance, duty, shape)
  }
}
