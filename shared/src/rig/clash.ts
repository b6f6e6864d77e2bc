// What can be wrong with a patch, as data: where, in which words, and what to do about it.

import { type Claim, freeStart, LAST_SLOT } from './claims.ts'
import type { Box, Socket } from './schema.ts'

export type ClashKind =
  | 'overlap'
  | 'past512'
  | 'socketTooSmall'
  | 'decoderTooSmall'
  | 'placedTwice'
  | 'unknown'

/** Ids of what clashes; `others` are the ids of what it clashes with. */
export interface ClashPlace {
  readonly universe?: number
  readonly address?: number
  readonly box?: string
  readonly socket?: string
  /** A fixture, or a guest. */
  readonly fixture?: string
  readonly others?: readonly string[]
}

export interface Clash {
  readonly kind: ClashKind
  readonly place: ClashPlace
  readonly says: string
  readonly remedy: string
}

const whose = (claim: Claim): ClashPlace => (claim.who === 'box' ? { box: claim.id } : { fixture: claim.id })

/** One clash for every two ranges that share slots of a universe. */
export function overlaps(claims: readonly Claim[]): Clash[] {
  const order = [...claims].sort(
    (a, b) => a.universe - b.universe || a.from - b.from || (a.id < b.id ? -1 : 1),
  )
  const clashes: Clash[] = []
  order.forEach((a, i) => {
    for (let j = i + 1; j < order.length; j++) {
      const b = order[j]!
      if (b.universe !== a.universe || b.from > a.to) break
      clashes.push(overlap(a, b, claims))
    }
  })
  return clashes
}

function overlap(a: Claim, b: Claim, claims: readonly Claim[]): Clash {
  const to = Math.min(a.to, b.to)
  const free = freeStart(
    claims.filter(c => c !== b),
    b.universe,
    b.to - b.from + 1,
  )
  const slots = b.from === to ? `address ${to}` : `addresses ${b.from} to ${to}`
  return {
    kind: 'overlap',
    place: { universe: a.universe, address: b.from, ...whose(b), others: [a.id] },
    says: `${a.name} (${a.from} to ${a.to}) and ${b.name} (${b.from} to ${b.to}) both listen to ${slots} of universe ${a.universe}.`,
    remedy:
      free === null
        ? `Move ${b.name} to another universe, here and on the device.`
        : `Set ${b.name} to address ${free}, here and on the device, or move it to another universe.`,
  }
}

/** A range that runs out of its universe (ANSI E1.11: 512 slots). */
export const past512 = (claim: Claim): Clash => {
  const fits = LAST_SLOT - (claim.to - claim.from)
  return {
    kind: 'past512',
    place: { universe: claim.universe, address: claim.from, ...whose(claim) },
    says: `${claim.name} starts at ${claim.from} and would end at ${claim.to}; universe ${claim.universe} ends at ${LAST_SLOT}, so its last outputs stay dark.`,
    remedy:
      fits >= 1
        ? `Set ${claim.name} to address ${fits} or lower, here and on the device, or to another universe.`
        : `${claim.name} needs more than one universe holds: split it into two.`,
  }
}

/** A fixture with more channels than its socket has outputs. */
export const socketTooSmall = (
  place: ClashPlace,
  name: string,
  needs: number,
  box: Box,
  socket: Socket,
): Clash => ({
  kind: 'socketTooSmall',
  place,
  says: `${name} needs ${needs} channels; ${box.name}, socket ${socket.label} has ${socket.channels}.`,
  remedy: `Plug ${name} into a socket with ${needs} channels, or correct the socket's channel count.`,
})

/** A box whose sockets want more outputs than its decoder has. */
export const decoderTooSmall = (id: string, box: Box, needs: number): Clash => ({
  kind: 'decoderTooSmall',
  place: { box: id, universe: box.universe, address: box.address },
  says: `The sockets of ${box.name} need ${needs} outputs; its decoder has ${box.decoder.channels}, so the last sockets stay dark.`,
  remedy: `Take sockets off ${box.name}, or correct its decoder's channel count.`,
})

/** A fixture that stands in two places of the kit at once. */
export const twice = (fixture: string, name: string, places: readonly string[]): Clash => ({
  kind: 'placedTwice',
  place: { fixture },
  says: `${name} is in ${places.length} places at once: ${places.join('; ')}.`,
  remedy: `Leave ${name} in the place where it stands, and clear the others.`,
})

/** Something the kit names and the rig does not have. `where`: the name of what points at it. */
export const unknown = (
  what: 'box' | 'socket' | 'fixture' | 'build',
  id: string,
  place: ClashPlace,
  where = 'The kit',
): Clash => ({
  kind: 'unknown',
  place,
  says: `${where} names the ${what} "${id}", which the rig does not have.`,
  remedy: `Choose a ${what} that the rig has, or add it to the rig.`,
})
