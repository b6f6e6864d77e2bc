// Sustain: the light stands.

/** m = 1. */
export function sustain(out: Float64Array, count: number): void {
  out.fill(1, 0, count)
}
