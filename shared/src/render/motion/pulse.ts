// Pulse: a hit every cycle, dying away.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import { fraction, type Layout } from './layout.ts'
import { passingFall } from './window.ts'

/** u = frac(P − S·x): attack at u = 0, then the fall of `fallAt` over D of the cycle. */
export function pulse(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { spread, duty, shape } = cue
  const x = layout.x[cue.direction]
  const phase = now[its.phase]!
  const advance = now[its.advance]!
  for (let i = 0; i < layout.count; i++) {
    out[i] = passingFall(fraction(phase - spread * x[i]!), advance, duty, shape)
  }
}
