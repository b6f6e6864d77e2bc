// Boxes as they are made and grown: a new one at a free address, and more sockets like one that is there.

import type { Kit } from '../show/schema.ts'
import { freeName } from './build-new.ts'
import { claimsOf, freeStart, outputBytes } from './claims.ts'
import { type Box, type Rig, rigSchema, type Socket } from './schema.ts'

const SOCKETS = 8

type Placed = Box['sockets'][number]

/** Eight sockets of three colours, the next letter, and the first address that is free beside all that is owned. */
export function newBox(rig: Rig, kit: Kit | undefined): Box {
  const letter = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].find(
    one => !Object.values(rig.boxes).some(box => box.name === `Box ${one}`),
  )
  const box = rigSchema.shape.boxes.valueType.parse({
    name: letter ? `Box ${letter}` : freeName('Box', rig.boxes),
    supply: { volts: 12, amps: 30 },
    decoder: { channels: SOCKETS * 3 },
    universe: 1,
    address: 1,
    sockets: Array.from({ length: SOCKETS }, (_, i) => ({ id: `s${i + 1}`, label: `${i + 1}` })),
  })
  return { ...box, ...freePlace(rig, kit, box) }
}

/**
 * The first address at which a box's decoder overlaps nothing: no other box of the rig, whether it is out tonight or
 * not, and no guest. It is looked for in the box's own universe, then in those after it.
 * @param own the id of the box itself, which does not stand in its own way
 */
export function freePlace(
  rig: Rig,
  kit: Kit | undefined,
  box: Box,
  own?: string,
): Pick<Box, 'universe' | 'address'> {
  const boxes = Object.fromEntries(
    Object.keys(rig.boxes)
      .filter(id => id !== own)
      .map(id => [id, { place: { x: 0, y: 0, z: 0 }, sockets: {} }]),
  )
  const stage = { width: 1, depth: 1, height: 1 }
  const claims = claimsOf(rig, { name: '', stage, parts: {}, guests: kit?.guests ?? {}, boxes })
  const slots = Math.min(512, box.decoder.channels * outputBytes(box))
  for (let universe = box.universe; ; universe++) {
    const address = freeStart(claims, universe, slots)
    if (address !== null) return { universe, address }
  }
}

/** The box with so many more sockets like one of its own, their labels counted on and their ids free. */
export function withMoreSockets(box: Box, like: Socket, count: number): Box {
  const sockets: Placed[] = [...box.sockets]
  for (let i = 0; i < count; i++) {
    const id = free(
      sockets.map(socket => socket.id),
      number => `s${number}`,
    )
    const label = free(
      sockets.map(socket => socket.label),
      number => `${number}`,
    )
    sockets.push({ ...like, id, label })
  }
  return { ...box, sockets }
}

/** The first name from number 1 that is not taken. */
function free(taken: readonly string[], name: (number: number) => string): string {
  let number = 1
  while (taken.includes(name(number))) number++
  return name(number)
}
