// Which slots of which universe a kit takes: one range for every box and every guest, lit or not.

import type { Kit } from '../show/schema.ts'
import { slotsOf } from './channels.ts'
import type { Box, Rig } from './schema.ts'

/** Data slots in a universe (ANSI E1.11: START code and up to 512 slots). */
export const LAST_SLOT = 512

/** Slots from…to (both taken, 1-based; `to` may pass 512) that a box's decoder or a guest listens to. */
export interface Claim {
  readonly who: 'box' | 'guest'
  readonly id: string
  readonly name: string
  readonly universe: number
  readonly from: number
  readonly to: number
}

/** DMX slots of one decoder output. */
export const outputBytes = (box: Box): number => box.decoder.bits / 8

/** The ranges that a kit's boxes and guests listen to. Those that the rig does not know claim nothing. */
export function claimsOf(rig: Rig, kit: Kit): Claim[] {
  const claims: Claim[] = []
  for (const id of Object.keys(kit.boxes)) {
    const box = rig.boxes[id]
    if (!box) continue
    const to = box.address + box.decoder.channels * outputBytes(box) - 1
    claims.push({ who: 'box', id, name: box.name, universe: box.universe, from: box.address, to })
  }
  for (const [id, guest] of Object.entries(kit.guests)) {
    const build = rig.builds[guest.build]
    if (!build) continue
    const to = guest.address + slotsOf(build.channels) - 1
    claims.push({ who: 'guest', id, name: guest.name, universe: guest.universe, from: guest.address, to })
  }
  return claims
}

/** The first of `slots` slots in a row that no claim takes, in one universe; null when there is none. */
export function freeStart(claims: readonly Claim[], universe: number, slots: number): number | null {
  let start = 1
  for (const claim of claims.filter(c => c.universe === universe).sort((a, b) => a.from - b.from)) {
    if (claim.from >= start + slots) break
    start = Math.max(start, claim.to + 1)
  }
  return start + slots - 1 <= LAST_SLOT ? start : null
}
