// Filament: the slow uneven burning of a warm lamp.

import { noise } from './noise.ts'
import type { Layout, Wave } from './wave.ts'

/** Names the stream that all elements share; no part has so many elements. */
const COMMON = 0x7fffff

/**
 * m = 1 − D·n², n smooth noise of 0…1: mostly bright, with dips of depth D. n = (n₁ + r·n₃) / (1 + r), noise once and
 * three times a cycle, r = 1 − shape: shape 1 only wanders, 0 also shivers. S (at most 1) mixes from one noise for all
 * to one for every element.
 */
export function filament(out: Float64Array, layout: Layout, wave: Wave): void {
  const { phase, duty, seed } = wave
  const shiver = 1 - wave.shape
  const own = Math.min(1, wave.spread)
  const common = burn(seed, COMMON, phase, shiver)
  for (let i = 0; i < layout.count; i++) {
    const n = own === 0 ? common : common + (burn(seed, i, phase, shiver) - common) * own
    out[i] = 1 - duty * n * n
  }
}

function burn(seed: number, element: number, phase: number, shiver: number): number {
  return (noise(seed, element, phase) + shiver * noise(seed + 1, element, 3 * phase)) / (1 + shiver)
}
