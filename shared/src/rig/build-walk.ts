// The slot walk of a fixture that nobody knows: one slot at a time is raised, what is seen says what the slot does.

import { CodedError } from '../errors.ts'
import type { Check } from '../render/check.ts'
import type { Build, Channel } from './schema.ts'

/** What can be seen when a slot is raised. */
export const seen = ['red', 'green', 'blue', 'white', 'brighter', 'strobes', 'moved', 'nothing'] as const
export type Seen = (typeof seen)[number]

export interface WalkedSlot {
  readonly seen: Seen
  /** Where it stood when it was answered, 0…1. */
  readonly value: number
  /** It stays there while the others are walked. */
  readonly stays: boolean
}

/** Slots are walked in order from the start address; `at` (0-based) is the one that is raised. */
export interface Walk {
  readonly universe: number
  readonly address: number
  readonly slots: readonly WalkedSlot[]
  readonly at: number
  /** Of the slot that is raised, 0…1. */
  readonly value: number
}

export const begunWalk = (universe: number, address: number): Walk => ({
  universe,
  address,
  slots: [],
  at: 0,
  value: 1,
})

/** How many slots the walk can have: up to the end of the universe. */
export const mostSlots = ({ address }: Pick<Walk, 'address'>): number => 513 - address

/**
 * Answers for the slot that is raised and goes to the next. A dimmer stays up, as nothing else shows without it; every
 * other slot goes down, unless it is said to stay.
 */
export function answered(walk: Walk, what: Seen): Walk {
  const slots = [...walk.slots]
  const stays = what === 'brighter' || (slots[walk.at]?.stays ?? false)
  slots[walk.at] = { seen: what, value: walk.value, stays }
  const at = Math.min(walk.at + 1, mostSlots(walk) - 1)
  return { ...walk, slots, at, value: at === walk.at ? walk.value : 1 }
}

/** Goes back (or on) to a slot that was answered, or to the first that was not; at the value it had. */
export function atSlot(walk: Walk, slot: number): Walk {
  const at = Math.max(0, Math.min(slot, walk.slots.length, mostSlots(walk) - 1))
  return { ...walk, at, value: walk.slots[at]?.value ?? 1 }
}

/** Lets an answered slot stay where it stood, or not. */
export const staying = (walk: Walk, slot: number, stays: boolean): Walk => ({
  ...walk,
  slots: walk.slots.map((one, i) => (i === slot ? { ...one, stays } : one)),
})

/** What stands on the wire: the raised slot, the slots that stay, and the others of the walk at 0. */
export function walkCheck(walk: Walk): Check {
  const count = Math.max(walk.slots.length, walk.at + 1)
  const slots = Array.from({ length: count }, (_, i) => {
    const held = walk.slots[i]
    const value = i === walk.at ? walk.value : held?.stays ? held.value : 0
    return { universe: walk.universe, address: walk.address + i, value }
  })
  return { lights: {}, others: 0, slots }
}

const colours = new Set<Seen>(['red', 'green', 'blue', 'white'])

/**
 * The channels that a walk has found. The second red belongs to the second cell, and so on; the first dimmer is the
 * whole fixture's, further ones stand open. What strobed, moved or showed nothing is parked: where it stood when it is
 * to stay, else at 0, and a head that moved in its middle.
 * @throws CodedError `walk.noLight`
 */
export function channelsOfWalk(walk: Walk): Pick<Build, 'channels' | 'cells'> {
  const counts: Partial<Record<Seen, number>> = {}
  const channels = walk.slots.map(slot => {
    const before = counts[slot.seen] ?? 0
    counts[slot.seen] = before + 1
    return channelOf(slot, before)
  })
  const isLit = walk.slots.some(slot => colours.has(slot.seen) || slot.seen === 'brighter')
  if (!isLit) {
    throw new CodedError(
      'walk.noLight',
      `none of the ${walk.slots.length} slots walked gave light`,
      `universe ${walk.universe}, from address ${walk.address}`,
    )
  }
  const cells = Math.max(1, ...walk.slots.map((_, i) => cellOf(channels[i]!) + 1))
  return { channels, cells }
}

/** @param before how many slots before it were seen to do the same */
function channelOf({ seen: what, value, stays }: WalkedSlot, before: number): Channel {
  switch (what) {
    case 'red':
    case 'green':
    case 'blue':
    case 'white':
      return { does: what, cell: before, bits: 8 }
    case 'brighter':
      return before === 0 ? { does: 'intensity', bits: 8 } : parked('Dimmer', 1)
    case 'strobes':
      return parked('Strobe', stays ? value : 0)
    case 'moved':
      return parked('Moves', stays ? value : 0.5)
    case 'nothing':
      return parked('Nothing seen', stays ? value : 0)
  }
}

const parked = (label: string, value: number): Channel => ({ does: 'fixed', value, label, bits: 8 })

const cellOf = (channel: Channel): number => ('cell' in channel ? channel.cell : 0)
