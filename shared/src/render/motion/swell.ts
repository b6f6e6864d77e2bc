// Swell: light that comes up and goes down like breath.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import { fraction, type Layout } from './layout.ts'

/** Exponents of the outline; duty is kept off 0 and 1, where it would have none. */
const widthOf = (duty: number): number => Math.LN2 / -Math.log(Math.min(0.97, Math.max(0.03, duty)))
const steepnessOf = (shape: number): number => 1 + 3 * (1 - shape) * (1 - shape)

/**
 * u = frac(P − S·x), dark at 0, crest at ½. With v = |2u − 1|^(ln ½ / ln D) and c = ½ + ½cos(πv):
 * m = 1 / (1 + ((1 − c)/c)^k), k = 1 + 3(1 − shape)². D is the share of the cycle above half; at D = ½ and shape 1 it
 * is a raised cosine.
 */
export function swell(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { spread } = cue
  const x = layout.x[cue.direction]
  const phase = now[its.phase]!
  const width = widthOf(cue.duty)
  const steepness = steepnessOf(cue.shape)
  for (let i = 0; i < layout.count; i++) out[i] = outline(fraction(phase - spread * x[i]!), width, steepness)
}

/** One cycle of it, for the mean. */
export const swellAt = (u: number, duty: number, shape: number): number =>
  outline(u, widthOf(duty), steepnessOf(shape))

function outline(u: number, width: number, steepness: number): number {
  const c = 0.5 + 0.5 * Math.cos(Math.PI * Math.abs(2 * u - 1) ** width)
  return 1 / (1 + ((1 - c) / c) ** steepness)
}
