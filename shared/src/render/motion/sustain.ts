// Sustain: the light stands.

import type { Layout } from './layout.ts'

/** m = 1. */
export function sustain(out: Float64Array, layout: Layout): void {
  out.fill(1, 0, layout.count)
}
