// Chase: windows of light run along the part.

import { fraction, type Layout, travel, type Wave } from './wave.ts'
import { passingWindow } from './window.ts'

/**
 * u = frac(P − T·x): the window opens at u = 0 and stays open for D of the cycle, with edges by shape; T is the
 * travel of S windows along the part (`travel`).
 */
export function chase(out: Float64Array, layout: Layout, x: Float64Array, wave: Wave): void {
  const { phase, advance, duty, shape } = wave
  const along = travel(wave.spread, duty, layout.cyclic)
  for (let i = 0; i < layout.count; i++) {
    out[i] = passingWindow(fraction(phase - along * x[i]!), advance, duty, shape)
  }
}
