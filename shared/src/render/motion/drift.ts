// Drift: a slow field of light and dark, like clouds over the part.

import { field } from './noise.ts'
import type { Layout, Wave } from './wave.ts'

/** Quarter of a lattice step the field moves along the part in a cycle, and half a step it changes. */
const ALONG = 0.5
const CHANGE = 0.5

/**
 * n = ⅔·field(2S·x − P/2, P/2) + ⅓·field(4S·x − P, P), smooth noise over place and time, 0…1 (on a ring it closes).
 * m rises smoothly from 0 to 1 as n goes from t − w to t + w, with t = 1 − D stretched to where n mostly lies and
 * w = 0.06 + 0.3·shape: about D of the part is lit.
 */
export function drift(out: Float64Array, layout: Layout, x: Float64Array, wave: Wave): void {
  const { phase, seed } = wave
  const places = 2 * wave.spread
  const period = layout.cyclic ? Math.max(1, Math.round(places)) : 0
  const scale = layout.cyclic && places > 0 ? period : places
  const threshold = 0.5 + 0.8 * (0.5 - wave.duty)
  const soft = 0.06 + 0.3 * wave.shape
  for (let i = 0; i < layout.count; i++) {
    const along = scale * x[i]! - ALONG * phase
    const wide = field(seed, along, CHANGE * phase, period)
    const fine = field(seed + 1, 2 * along, 2 * CHANGE * phase, 2 * period)
    const n = (2 * wide + fine) / 3
    const s = Math.min(1, Math.max(0, 0.5 + (n - threshold) / (2 * soft)))
    out[i] = s * s * (3 - 2 * s)
  }
}
