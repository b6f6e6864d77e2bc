// Filament: the slow uneven burning of a warm lamp.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import type { Layout } from './layout.ts'
import { ease, hash } from './noise.ts'

/** The element whose noise all share. */
const COMMON = -1

/**
 * m = 1 − D·n², n smooth noise of 0…1: mostly bright, with dips of depth D. n = (n₁ + r·n₃) / (1 + r), noise once and
 * three times a cycle, r = 1 − shape: shape 1 only wanders, 0 also shivers. S (at most 1) mixes from one noise for all
 * to one for every element.
 */
export function filament(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { duty, seed } = cue
  const phase = now[its.phase]!
  const step = Math.floor(phase)
  const eased = ease(phase - step)
  const quick = Math.floor(3 * phase)
  const quickEased = ease(3 * phase - quick)
  const shiver = 1 - cue.shape
  const own = Math.min(1, cue.spread)
  let common = 0
  for (let i = COMMON; i < layout.count; i++) {
    const slow = hash(seed, i, step)
    const fast = hash(seed + 1, i, quick)
    const wander = slow + (hash(seed, i, step + 1) - slow) * eased
    const shake = fast + (hash(seed + 1, i, quick + 1) - fast) * quickEased
    const n = (wander + shiver * shake) / (1 + shiver)
    if (i === COMMON) {
      common = n
      continue
    }
    const mixed = common + (n - common) * own
    out[i] = 1 - duty * mixed * mixed
  }
}
