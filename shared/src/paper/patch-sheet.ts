// The patch as it is printed: box by box, socket by socket, free ones too; then the guests.

import { type BoxLoad, boxLoad } from '../power/box.ts'
import { outputBytes } from '../rig/claims.ts'
import { patch } from '../rig/patch.ts'
import type { Box, Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import { badgesOf, metresText, rangeText, wireText } from './words.ts'

export interface SocketRow {
  readonly socket: string
  /** What is written at the plug, and with its box's badge: “3”, “A3”. */
  readonly label: string
  readonly plug: string
  /** Null: free. */
  readonly fixture: string | null
  readonly name: string
  readonly build: string
  /** “7–9”. */
  readonly addresses: string
  /** “7 m, 16 AWG”. */
  readonly cable: string
  /** What is different tonight: colour order, trim. */
  readonly tonight: string
}

export interface BoxRows {
  readonly box: string
  readonly badge: string
  readonly name: string
  readonly universe: number
  readonly addresses: string
  readonly sockets: readonly SocketRow[]
  readonly load: BoxLoad
}

export interface GuestRow {
  readonly guest: string
  readonly name: string
  readonly build: string
  readonly universe: number
  readonly addresses: string
}

export interface PatchSheet {
  readonly boxes: readonly BoxRows[]
  readonly guests: readonly GuestRow[]
  /** What is wrong, with what to do. */
  readonly clashes: readonly { readonly says: string; readonly remedy: string }[]
}

/** The patch of a kit, in the order its boxes were put out. */
export function patchSheet(rig: Rig, kit: Kit): PatchSheet {
  const badges = badgesOf(rig, kit)
  const { entries, clashes } = patch(rig, kit)
  const boxes = Object.keys(kit.boxes).flatMap(id => {
    const box = rig.boxes[id]
    const load = boxLoad(rig, kit, id)
    if (!box || !load) return []
    return [
      {
        box: id,
        badge: badges[id]!,
        name: box.name,
        universe: box.universe,
        addresses: rangeText(box.address, box.decoder.channels * outputBytes(box)),
        sockets: socketRows(rig, kit, id, box, badges[id]!),
        load,
      },
    ]
  })
  const guests = Object.entries(kit.guests).map(([id, guest]) => ({
    guest: id,
    name: guest.name,
    build: rig.builds[guest.build]?.name ?? 'a build that the rig does not have',
    universe: guest.universe,
    addresses: rangeText(guest.address, entries.find(e => e.fixture === id)?.slots ?? 1),
  }))
  return { boxes, guests, clashes }
}

function socketRows(rig: Rig, kit: Kit, id: string, box: Box, badge: string): SocketRow[] {
  let first = 0
  return box.sockets.map(socket => {
    const address = box.address + first * outputBytes(box)
    first += socket.channels
    const stand = kit.boxes[id]!.sockets[socket.id]
    const fixture = stand && rig.fixtures[stand.fixture]
    const { cable } = socket
    const swap = stand?.swap && stand.swap !== 'rgb' ? `colours ${stand.swap.toUpperCase()}` : ''
    const missing = stand?.missing ? 'missing' : ''
    const trim = stand && stand.trim < 1 ? `${Math.round(stand.trim * 100)} %` : ''
    return {
      socket: socket.id,
      label: socket.label,
      plug: `${badge}${socket.label}`,
      fixture: stand?.fixture ?? null,
      name: stand ? (fixture?.name ?? 'not in the rig') : 'free',
      build: (fixture && rig.builds[fixture.build]?.name) ?? '',
      addresses: rangeText(address, socket.channels * outputBytes(box)),
      cable: `${metresText(cable.length)}, ${wireText(cable.wire)}`,
      tonight: [missing, swap, trim].filter(Boolean).join(', '),
    }
  })
}
