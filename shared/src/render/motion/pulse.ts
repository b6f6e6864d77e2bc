// Pulse: a hit every cycle, dying away.

import { fraction, type Layout, type Wave } from './wave.ts'
import { passingFall } from './window.ts'

/** u = frac(P − S·x): attack at u = 0, then the fall of `fallAt` over D of the cycle. */
export function pulse(out: Float64Array, layout: Layout, x: Float64Array, wave: Wave): void {
  const { phase, advance, spread, duty, shape } = wave
  for (let i = 0; i < layout.count; i++) {
    out[i] = passingFall(fraction(phase - spread * x[i]!), advance, duty, shape)
  }
}
