// Scatter: single lights flare up here and there and die away.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import type { Layout } from './layout.ts'
import { hash } from './noise.ts'
import { fallAt } from './window.ts'

/** Streams of the hash that must not resemble the one that picks who is lit. */
const MOMENT = 0x5bd1

/**
 * Element e steps once a cycle, at a moment of its own: u = P − S·h(e), S at most 1 (0: all step together). In step
 * ⌊u⌋ it is lit when its hash is below D, and falls over the step by `fallAt` with its shape.
 */
export function scatter(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { duty, shape, seed } = cue
  const phase = now[its.phase]!
  const advance = now[its.advance]!
  const apart = Math.min(1, cue.spread)
  for (let i = 0; i < layout.count; i++) {
    const u = phase - apart * hash(seed ^ MOMENT, i, 0)
    const step = Math.floor(u)
    const age = u - step
    if (age + advance > 1 && hash(seed, i, step + 1) < duty) out[i] = 1
    else out[i] = hash(seed, i, step) < duty ? fallAt(age, shape) : 0
  }
}
