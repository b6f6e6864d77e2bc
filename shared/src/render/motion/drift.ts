// Drift: a slow field of light and dark, like clouds over the part.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import type { Layout } from './layout.ts'
import { ease, hash } from './noise.ts'

/** Lattice steps that the field moves along the part in a cycle, and that it changes by in time. */
const ALONG = 0.5
const CHANGE = 0.5

/**
 * n = ⅔·field(2S·x − P/2, P/2) + ⅓·field(4S·x − P, P), smooth noise over place and time, 0…1 (on a ring it closes).
 * m rises smoothly from 0 to 1 as n goes from t − w to t + w, with t = 1 − D stretched to where n mostly lies and
 * w = 0.05 + 0.28·shape: about D of the part is lit.
 */
export function drift(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const threshold = 0.5 + 0.8 * (0.5 - cue.duty)
  const soft = 0.05 + 0.28 * cue.shape
  out.fill(0, 0, layout.count)
  addField(out, layout, cue, now, 1)
  addField(out, layout, cue, now, 2)
  for (let i = 0; i < layout.count; i++) {
    const s = Math.min(1, Math.max(0, 0.5 + (out[i]! - threshold) / (2 * soft)))
    out[i] = s * s * (3 - 2 * s)
  }
}

/** Adds the wide field (1) or the fine one (2), which is as much quicker, nearer and weaker. */
function addField(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now, fineness: 1 | 2): void {
  const x = layout.x[cue.direction]
  const seed = cue.seed + fineness
  const share = fineness === 1 ? 2 / 3 : 1 / 3
  const wide = 2 * cue.spread
  const period = layout.cyclic ? fineness * Math.max(1, Math.round(wide)) : 0
  const scale = layout.cyclic && wide > 0 ? period : fineness * wide
  const moved = fineness * ALONG * now[its.phase]!
  const time = fineness * CHANGE * now[its.phase]!
  const step = Math.floor(time)
  const eased = ease(time - step)
  for (let i = 0; i < layout.count; i++) {
    const place = scale * x[i]! - moved
    const cell = Math.floor(place)
    const left = period > 0 ? cell - period * Math.floor(cell / period) : cell
    const right = period > 0 && left + 1 === period ? 0 : left + 1
    const leftNow = hash(seed, left, step)
    const rightNow = hash(seed, right, step)
    const here = leftNow + (hash(seed, left, step + 1) - leftNow) * eased
    const there = rightNow + (hash(seed, right, step + 1) - rightNow) * eased
    out[i]! += share * (here + (there - here) * ease(place - cell))
  }
}
