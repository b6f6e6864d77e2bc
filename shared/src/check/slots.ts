// The slots of a socket or a guest: which it has, and what each carries, as numbers a person reads on a decoder.

import type { PatchEntry } from '../rig/patch.ts'
import type { Channel } from '../rig/schema.ts'

export interface Slots {
  /** First and last slot, 1…512; a guest without channels has none: last < first. */
  readonly first: number
  readonly last: number
  readonly bits: 8 | 16
  /** What stands on them, in the order of the wire; empty for an empty socket. */
  readonly carries: readonly { readonly does: Channel['does']; readonly slot: number }[]
}

export function claimedSlots(
  entry: PatchEntry | undefined,
  first: number,
  last: number,
  bits: 8 | 16,
): Slots {
  let slot = first
  const carries = (entry?.channels ?? []).map(channel => {
    const at = slot
    slot += channel.bits / 8
    return { does: channel.does, slot: at }
  })
  return { first, last, bits, carries }
}

/** “7”, “7 and 10”, “7, 10 and 6 more”: the slots that carry a colour. */
export function slotText({ carries }: Slots, does: Channel['does']): string {
  const own = carries.filter(c => c.does === does).map(c => c.slot)
  if (own.length <= 2) return own.join(' and ')
  return `${own[0]}, ${own[1]} and ${own.length - 2} more`
}
