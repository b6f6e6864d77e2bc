// Gradients: colour stops mixed in OKLab once, as a table of linear light that the renderer reads.

import { linearOfOklab, oklabOf } from './oklab.ts'
import type { LinearRgb } from './srgb.ts'

/** Steps of a gradient's table; it holds one colour more than that. */
export const GRADIENT_STEPS = 256

/** A colour at a place 0…1. */
export interface Stop {
  readonly at: number
  readonly colour: LinearRgb
}

/**
 * The table of a gradient: (GRADIENT_STEPS + 1) × 3 shares of linear light, each 0…1. Before the first stop and
 * after the last their colours hold; two stops at one place make a hard edge there.
 */
export function gradientTable(stops: readonly Stop[]): Float32Array {
  const sorted = [...stops].sort((a, b) => a.at - b.at)
  const labs = sorted.map(stop => oklabOf(stop.colour))
  const table = new Float32Array((GRADIENT_STEPS + 1) * 3)
  let next = 0
  for (let i = 0; i <= GRADIENT_STEPS; i++) {
    const at = i / GRADIENT_STEPS
    while (next < sorted.length && sorted[next]!.at <= at) next++
    const before = Math.max(0, next - 1)
    const after = Math.min(sorted.length - 1, next)
    const gap = sorted[after]!.at - sorted[before]!.at
    const share = gap > 0 ? (at - sorted[before]!.at) / gap : 0
    const from = labs[before]!
    const to = labs[after]!
    const mix = (axis: 0 | 1 | 2) => from[axis] + (to[axis] - from[axis]) * share
    const light = share === 0 ? sorted[before]!.colour : linearOfOklab([mix(0), mix(1), mix(2)])
    // The way between two colours that a lamp can show may leave what it can show: cut there.
    for (let c = 0; c < 3; c++) table[i * 3 + c] = Math.min(1, Math.max(0, light[c]!))
  }
  return table
}
