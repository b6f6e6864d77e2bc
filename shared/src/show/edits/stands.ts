// Edits of what stands where in a kit: boxes, the fixtures in their sockets, and guests.

import { id, place } from '../fields.ts'
import { type Kit, kitSchema } from '../schema.ts'
import { found, mapped, put, withFields, without } from './change.ts'
import { showEdit } from './edit.ts'
import { inKit, kitOf } from './kits.ts'

const outBox = kitSchema.shape.boxes.valueType
const stand = outBox.shape.sockets.valueType
const guest = kitSchema.shape.guests.valueType

const boxOf = (kit: Kit, box: string) => found(kit.boxes, box, 'box', kit.name)
const standOf = (kit: Kit, box: string, socket: string) =>
  found(boxOf(kit, box).sockets, socket, 'fixture in the socket', kit.name)
const guestOf = (kit: Kit, id: string) => found(kit.guests, id, 'guest', kit.name)

export const standEdits = {
  /** Puts a box of the rig on the stage, or moves it there. */
  placeBox: showEdit(
    { kit: id, box: id, place },
    (args, show, rig) => `Place ${rig.boxes[args.box]?.name ?? args.box} in ${kitOf(show, args.kit).name}`,
    (show, args, rig) =>
      inKit(show, args.kit, kit => {
        found(rig.boxes, args.box, 'box', rig.name)
        const out = kit.boxes[args.box] ?? { sockets: {} }
        return { ...kit, boxes: put(kit.boxes, args.box, { ...out, place: args.place }) }
      }),
  ),

  /** Takes a box off the stage, with what stands in its sockets. */
  removeBox: showEdit(
    { kit: id, box: id },
    (args, _show, rig) => `Take ${rig.boxes[args.box]?.name ?? args.box} off the stage`,
    (show, args) =>
      inKit(show, args.kit, kit => {
        boxOf(kit, args.box)
        return { ...kit, boxes: without(kit.boxes, args.box) }
      }),
  ),

  /** Arms a box's power limit at so many amps; null: takes it off. */
  setPowerLimit: showEdit(
    { kit: id, box: id, amps: outBox.shape.powerLimit.unwrap().nullable() },
    (args, _show, rig) =>
      `${args.amps === null ? 'No power limit' : 'Power limit'} on ${rig.boxes[args.box]?.name ?? args.box}`,
    (show, args) =>
      inKit(show, args.kit, kit => {
        const out = withFields(boxOf(kit, args.box), { powerLimit: args.amps })
        return { ...kit, boxes: put(kit.boxes, args.box, out) }
      }),
  ),

  /** Puts a fixture into a socket; it leaves the one it stood in. */
  setStand: showEdit(
    { kit: id, box: id, socket: id, stand },
    (args, _show, rig) => `Stand ${rig.fixtures[args.stand.fixture]?.name ?? args.stand.fixture}`,
    (show, args, rig) =>
      inKit(show, args.kit, kit => {
        found(rig.fixtures, args.stand.fixture, 'fixture', rig.name)
        const sockets = found(rig.boxes, args.box, 'box', rig.name).sockets.map(s => [s.id, s] as const)
        found(Object.fromEntries(sockets), args.socket, 'socket', args.box)
        boxOf(kit, args.box)
        const { boxes } = leavingSockets(kit, args.stand.fixture)
        const box = boxes[args.box]!
        return {
          ...kit,
          boxes: put(boxes, args.box, { ...box, sockets: put(box.sockets, args.socket, args.stand) }),
        }
      }),
  ),

  /** Empties a socket. The fixture stays in the part lists, for when it comes back. */
  removeStand: showEdit(
    { kit: id, box: id, socket: id },
    (args, show, rig) => {
      const { fixture } = standOf(kitOf(show, args.kit), args.box, args.socket)
      return `Take ${rig.fixtures[fixture]?.name ?? fixture} off the stage`
    },
    (show, args) =>
      inKit(show, args.kit, kit => {
        standOf(kit, args.box, args.socket)
        const box = boxOf(kit, args.box)
        return {
          ...kit,
          boxes: put(kit.boxes, args.box, { ...box, sockets: without(box.sockets, args.socket) }),
        }
      }),
  ),

  /** Adds a guest, or puts it in the place of the one with this id. */
  setGuest: showEdit(
    { kit: id, guest: id, value: guest },
    args => `Guest ${args.value.name}`,
    (show, args, rig) =>
      inKit(show, args.kit, kit => {
        found(rig.builds, args.value.build, 'build', rig.name)
        return { ...kit, guests: put(kit.guests, args.guest, args.value) }
      }),
  ),

  /** Takes a guest out of the kit and its parts. */
  removeGuest: showEdit(
    { kit: id, guest: id },
    (args, show) => `Remove the guest ${guestOf(kitOf(show, args.kit), args.guest).name}`,
    (show, args) =>
      inKit(show, args.kit, kit => {
        guestOf(kit, args.guest)
        const parts = mapped(kit.parts, part =>
          part.fixtures.includes(args.guest)
            ? { ...part, fixtures: part.fixtures.filter(f => f !== args.guest) }
            : part,
        )
        return { ...kit, guests: without(kit.guests, args.guest), parts }
      }),
  ),
}

/** A fixture can stand in one socket only. */
const leavingSockets = (kit: Kit, fixture: string): Kit => ({
  ...kit,
  boxes: mapped(kit.boxes, box => {
    const socket = Object.keys(box.sockets).find(s => box.sockets[s]!.fixture === fixture)
    return socket === undefined ? box : { ...box, sockets: without(box.sockets, socket) }
  }),
})
