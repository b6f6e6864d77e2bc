// A box with everything on: what each socket, contact, fuse, decoder output, supply and mains plug then carries.

import type { Box, Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import { ampsOf, colourNames, fullAmps } from './draw.ts'
import { type AtTheLight, atTheLight, pathOf } from './drop.ts'
import { type FuseChoice, fuseChoices } from './fuse.ts'

/** A cable in a warm place on a stage; common practice, no source. */
export const CABLE_CELSIUS = 40

export type LoadFault =
  /** More than one contact of the plug may carry: the common one carries all colours. */
  | 'contact'
  /** More than one output of the decoder may carry. */
  | 'output'
  /** The fuse is smaller than the load. */
  | 'fuseSmall'
  /** The fuse is larger than the conductor allows. */
  | 'fuseLarge'
  /** No fuse under either rule fits load and conductor. */
  | 'noFuse'
  /** The cable has fewer conductors than the fixture has colours and a common. */
  | 'conductors'

export interface SocketLoad {
  readonly socket: string
  readonly label: string
  /** The fixture's id and name. */
  readonly fixture: string
  readonly name: string
  /** Amps full on with no cable: the most that can flow. */
  readonly amps: number
  readonly at: AtTheLight
  readonly fuses: readonly FuseChoice[]
  readonly faults: readonly LoadFault[]
}

export interface BoxLoad {
  readonly box: string
  readonly sockets: readonly SocketLoad[]
  /** Amps with everything on, at the volts of the builds. */
  readonly amps: number
  readonly watts: number
  /** What the supply is loaded with for long at most: its amps times its continuous share. */
  readonly continuous: number
  readonly supply: number
  /** What the decoder may carry in all. */
  readonly decoder: number
  /** Amps that the box then takes from the mains; an estimate by the supply's efficiency, at power factor 1. */
  readonly mainsAmps: number
}

/** The loads of a box as its sockets are filled in a kit; null when the rig or the kit does not have it. */
export function boxLoad(rig: Rig, kit: Kit, id: string): BoxLoad | null {
  const box = rig.boxes[id]
  const out = kit.boxes[id]
  if (!box || !out) return null
  const sockets = box.sockets.flatMap(socket => {
    const stand = out.sockets[socket.id]
    return stand && !stand.missing ? (socketLoad(rig, box, socket, stand.fixture) ?? []) : []
  })
  const amps = sockets.reduce((sum, socket) => sum + socket.amps, 0)
  const { supply, decoder } = box
  const watts = amps * supply.volts
  return {
    box: id,
    sockets,
    amps,
    watts,
    continuous: supply.amps * supply.continuousShare,
    supply: supply.amps,
    decoder: decoder.ampsInAll ?? decoder.ampsPerChannel * decoder.channels,
    mainsAmps: watts / supply.efficiency / supply.mainsVolts,
  }
}

function socketLoad(
  rig: Rig,
  box: Box,
  socket: Box['sockets'][number],
  fixtureId: string,
): SocketLoad | null {
  const fixture = rig.fixtures[fixtureId]
  const build = fixture && rig.builds[fixture.build]
  if (!fixture || !build) return null
  const amps = fullAmps(build)
  const at = atTheLight(build, pathOf(socket.cable, CABLE_CELSIUS), box.supply.volts)
  const fuses = fuseChoices(amps, socket.cable.wire)
  const colours = colourNames.map(colour => ampsOf(build)[colour])
  const faults: LoadFault[] = []
  if (amps > socket.contactAmps) faults.push('contact')
  // A colour of several cells has an output for each of them.
  if (Math.max(...colours) / build.cells > box.decoder.ampsPerChannel) faults.push('output')
  if (socket.cable.conductors < 1 + colours.filter(a => a > 0).length * build.cells) faults.push('conductors')
  if (amps > 0 && fuses.every(choice => choice.fuse === null)) faults.push('noFuse')
  if (socket.fuse !== undefined) {
    const limit = fuses[0]!.limit
    if (socket.fuse < amps) faults.push('fuseSmall')
    if (limit !== null && socket.fuse > limit) faults.push('fuseLarge')
  }
  return {
    socket: socket.id,
    label: socket.label,
    fixture: fixtureId,
    name: fixture.name,
    amps,
    at,
    fuses,
    faults,
  }
}
