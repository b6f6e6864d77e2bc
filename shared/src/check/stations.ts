// Where a line check goes: tonight's sockets and guests, in the order in which a person walks from one to the next.

import { type PatchEntry, patch } from '../rig/patch.ts'
import type { Build, Rig } from '../rig/schema.ts'
import type { Place } from '../show/fields.ts'
import type { Kit } from '../show/schema.ts'
import { claimedSlots, type Slots } from './slots.ts'
import { whereOf } from './where.ts'

/** One stop of the walk: a socket of a box, filled or empty, or a guest. */
export interface Station {
  /** Names it among the others: box and socket, or the guest. */
  readonly key: string
  /** The rig's box id; null for a guest. */
  readonly box: string | null
  readonly boxName: string
  readonly socket: string | null
  /** What is written at the plug; empty for a guest. */
  readonly label: string
  /** The fixture (or guest) that stands there; null: the socket is empty tonight. */
  readonly fixture: string | null
  readonly name: string
  readonly build: Build | null
  /** “Upstage, stage right”; empty for an empty socket. */
  readonly where: string
  readonly universe: number
  /** Slots of the socket (or guest), from its first, 1-based; `does` by slot. */
  readonly slots: Slots
}

/** A box and its sockets, or the guests, as they are drawn together. */
export interface Group {
  readonly box: string | null
  readonly name: string
  /** “upstage, stage right”. */
  readonly where: string
  readonly place: Place | null
  readonly stations: readonly Station[]
}

/**
 * The walk of a kit: its boxes, each next one the nearest to where one stands, from the one that is first in the patch;
 * in a box its sockets in their order; the guests after them, nearest first.
 */
export function groupsOf(rig: Rig, kit: Kit): Group[] {
  const { entries } = patch(rig, kit)
  const boxes = Object.entries(kit.boxes)
    .flatMap(([id, out]) => (rig.boxes[id] ? [{ id, box: rig.boxes[id], ...out }] : []))
    .sort((a, b) => a.box.universe - b.box.universe || a.box.address - b.box.address)
  const walked = walk(boxes, boxes[0]?.place ?? null)
  const groups = walked.map(({ id, box, place, sockets }): Group => {
    let slot = box.address
    const stations = box.sockets.map((socket): Station => {
      const stand = sockets[socket.id]
      const fixture = stand && !stand.missing ? stand.fixture : null
      const owned = fixture === null ? undefined : rig.fixtures[fixture]
      const entry = entries.find(e => e.box === id && e.socket === socket.id)
      const from = slot
      slot += (socket.channels * box.decoder.bits) / 8
      return {
        key: `${id}/${socket.id}`,
        box: id,
        boxName: boxNamed(box.name),
        socket: socket.id,
        label: socket.label,
        fixture: owned ? fixture : null,
        name: owned?.name ?? (stand?.missing ? 'Missing tonight' : 'Empty'),
        build: (owned && rig.builds[owned.build]) ?? null,
        where: owned ? whereOf(rig, kit, fixture!) : '',
        universe: box.universe,
        slots: claimedSlots(entry, from, Math.min(512, slot - 1), box.decoder.bits),
      }
    })
    return { box: id, name: boxNamed(box.name), where: whereOf(rig, kit, id), place, stations }
  })
  const guests = Object.entries(kit.guests).map(([id, guest]) => ({ id, ...guest }))
  const stations = walk(guests, walked.at(-1)?.place ?? guests[0]?.place ?? null).map((guest): Station => {
    const entry = entries.find(e => e.fixture === guest.id && e.box === undefined)
    return {
      key: `guest/${guest.id}`,
      box: null,
      boxName: 'Guest',
      socket: null,
      label: '',
      fixture: guest.id,
      name: guest.name,
      build: rig.builds[guest.build] ?? null,
      where: whereOf(rig, kit, guest.id),
      universe: guest.universe,
      slots: claimedSlots(entry, guest.address, lastSlotOf(entry, guest.address), 8),
    }
  })
  if (stations.length > 0) groups.push({ box: null, name: 'Guests', where: '', place: null, stations })
  return groups
}

const lastSlotOf = (entry: PatchEntry | undefined, first: number): number => first + (entry?.slots ?? 0) - 1

/** A box's name as it is said: “Box C”, and “Fly box” as it is. */
const boxNamed = (name: string): string => (/\bbox\b/i.test(name) ? name : `Box ${name}`)

/** Each next one is the nearest of those that are left; equals keep their order. */
function walk<T extends { readonly place: Place }>(all: readonly T[], from: Place | null): T[] {
  const left = [...all]
  const order: T[] = []
  let here = from
  while (here !== null && left.length > 0) {
    const at = here
    const next = left.reduce((near, one) => (apart(at, one.place) < apart(at, near.place) ? one : near))
    left.splice(left.indexOf(next), 1)
    order.push(next)
    here = next.place
  }
  return order
}

/** Metres over the floor. */
export const apart = (a: Place, b: Place): number => Math.hypot(a.x - b.x, a.y - b.y)
