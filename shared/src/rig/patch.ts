// The patch: which fixture listens where tonight. Computed from rig and kit, never typed twice; clashes come with it.

import type { Kit } from '../show/schema.ts'
import { exchanged, slotsOf } from './channels.ts'
import { claimsOf, freeStart, LAST_SLOT, outputBytes } from './claims.ts'
import { type Clash, decoderTooSmall, overlaps, past512, socketTooSmall, twice, unknown } from './clash.ts'
import type { Box, Channel, Rig } from './schema.ts'

/** One fixture on the wire. */
export interface PatchEntry {
  /** The rig's fixture id, or the guest's. */
  readonly fixture: string
  readonly universe: number
  /** Start address, from 1. Lies past 512 only for an entry without channels. */
  readonly address: number
  /**
   * What is sent from `address` on, in the order of the wire: on a box as wide as its decoder (8 or 16 bits), colours
   * exchanged as the kit says. Channels that the socket, the decoder or the universe has no room for are left out.
   */
  readonly channels: readonly Channel[]
  /** DMX slots of `channels`. */
  readonly slots: number
  /** Where it is plugged in; a guest has neither. */
  readonly box?: string
  readonly socket?: string
}

export interface Patch {
  /** In patch order: universe, address, then id. Every slot lies in 1…512, and in its box's range. */
  readonly entries: readonly PatchEntry[]
  readonly clashes: readonly Clash[]
}

/** Patches a kit: every fixture in a socket and every guest, and all that is wrong with their addresses. */
export function patch(rig: Rig, kit: Kit): Patch {
  const entries: PatchEntry[] = []
  const clashes: Clash[] = []
  for (const [boxId, out] of Object.entries(kit.boxes)) {
    const box = rig.boxes[boxId]
    if (box) patchBox(rig, boxId, box, out.sockets, entries, clashes)
    else clashes.push(unknown('box', boxId, { box: boxId }))
  }
  for (const [guestId, guest] of Object.entries(kit.guests)) {
    const build = rig.builds[guest.build]
    if (!build) {
      clashes.push(unknown('build', guest.build, { fixture: guestId }, guest.name))
      continue
    }
    const channels = fitting(build.channels, LAST_SLOT + 1 - guest.address)
    const { universe, address } = guest
    entries.push({ fixture: guestId, universe, address, channels, slots: slotsOf(channels) })
  }
  const claims = claimsOf(rig, kit)
  clashes.push(...claims.filter(c => c.to > LAST_SLOT).map(past512), ...overlaps(claims))
  clashes.push(...placedTwice(rig, kit, entries))
  entries.sort(
    (a, b) =>
      a.universe - b.universe ||
      a.address - b.address ||
      (a.fixture < b.fixture ? -1 : a.fixture > b.fixture ? 1 : 0),
  )
  return { entries, clashes }
}

function patchBox(
  rig: Rig,
  boxId: string,
  box: Box,
  stands: Kit['boxes'][string]['sockets'],
  entries: PatchEntry[],
  clashes: Clash[],
): void {
  const bytes = outputBytes(box)
  let output = 0
  for (const socket of box.sockets) {
    const first = output
    output += socket.channels
    const stand = stands[socket.id]
    if (!stand || stand.missing) continue
    const place = { box: boxId, socket: socket.id, fixture: stand.fixture }
    const owned = rig.fixtures[stand.fixture]
    const build = owned && rig.builds[owned.build]
    if (!owned) clashes.push(unknown('fixture', stand.fixture, place, `${box.name}, socket ${socket.label}`))
    else if (!build) clashes.push(unknown('build', owned.build, place, owned.name))
    if (!owned || !build) continue

    if (build.channels.length > socket.channels) {
      clashes.push(socketTooSmall(place, owned.name, build.channels.length, box, socket))
    }
    const address = box.address + first * bytes
    const outputs = Math.max(0, Math.min(socket.channels, box.decoder.channels - first))
    const wired = build.channels.slice(0, outputs).map(c => ({ ...c, bits: box.decoder.bits }))
    const channels = fitting(exchanged(wired, stand.swap), LAST_SLOT + 1 - address)
    entries.push({
      fixture: stand.fixture,
      universe: box.universe,
      address,
      channels,
      slots: slotsOf(channels),
      box: boxId,
      socket: socket.id,
    })
  }
  if (output > box.decoder.channels) clashes.push(decoderTooSmall(boxId, box, output))
  for (const [socketId, stand] of Object.entries(stands)) {
    if (box.sockets.some(s => s.id === socketId)) continue
    clashes.push(
      unknown('socket', socketId, { box: boxId, socket: socketId, fixture: stand.fixture }, box.name),
    )
  }
}

/** The channels, whole, that fit in so many slots. */
function fitting(channels: readonly Channel[], slots: number): readonly Channel[] {
  let end = 0
  for (let left = slots; end < channels.length; end++) {
    left -= channels[end]!.bits / 8
    if (left < 0) break
  }
  return end === channels.length ? channels : channels.slice(0, end)
}

function placedTwice(rig: Rig, kit: Kit, entries: readonly PatchEntry[]): Clash[] {
  const places = new Map<string, PatchEntry[]>()
  for (const e of entries) places.set(e.fixture, [...(places.get(e.fixture) ?? []), e])
  return [...places].flatMap(([fixture, at]) =>
    at.length < 2
      ? []
      : [
          twice(
            fixture,
            rig.fixtures[fixture]?.name ?? kit.guests[fixture]?.name ?? fixture,
            at.map(e => placeName(rig, e)),
          ),
        ],
  )
}

function placeName(rig: Rig, entry: PatchEntry): string {
  const box = entry.box === undefined ? undefined : rig.boxes[entry.box]
  if (!box) return `address ${entry.universe}/${entry.address}`
  return `${box.name}, socket ${box.sockets.find(s => s.id === entry.socket)?.label ?? entry.socket}`
}

/**
 * The first start address in a universe with `slots` (1…512) slots in a row that no box and no guest of the kit
 * takes; null when there is none.
 */
export const freeAddress = (rig: Rig, kit: Kit, universe: number, slots: number): number | null =>
  freeStart(claimsOf(rig, kit), universe, slots)
