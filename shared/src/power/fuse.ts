// Which fuse protects a socket's cable: the smallest that carries the load, and no larger than the conductor allows.

import type { Wire } from '../rig/electric.ts'
import { overcurrentLimit } from './wire.ts'

/** Blade fuses, A (ISO 8820-3 type C). */
export const bladeFuses = [1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40] as const

/**
 * How much larger than a continuous load a fuse is to be. `maker`: the load is at most 75 % of it (makers' practice);
 * `code`: it is at least 125 % of the load (NEC, continuous loads).
 */
export type FuseRule = 'maker' | 'code'

/** The smallest blade fuse for a continuous load of `amps`; null when none is large enough. */
export function fuseFor(amps: number, rule: FuseRule): number | null {
  const least = rule === 'maker' ? amps / 0.75 : amps * 1.25
  return bladeFuses.find(fuse => fuse >= least - 1e-9) ?? null
}

export interface FuseChoice {
  readonly rule: FuseRule
  /** Null: no fuse is large enough for the load and small enough for the conductor. */
  readonly fuse: number | null
  /** What the conductor allows, A; null where the code's table does not go so small. */
  readonly limit: number | null
}

/** The fuse that each rule asks for. Local code and a licensed electrician come first. */
export const fuseChoices = (amps: number, wire: Wire): FuseChoice[] =>
  (['maker', 'code'] as const).map(rule => {
    const limit = overcurrentLimit(wire)
    const fuse = fuseFor(amps, rule)
    return { rule, limit, fuse: fuse !== null && limit !== null && fuse <= limit ? fuse : null }
  })
