// What the house asks for: mains by box and in all, outlets, data cables, and where the light is sent.

import { slotsOf } from '../rig/channels.ts'
import { outputBytes } from '../rig/claims.ts'
import type { Rig } from '../rig/schema.ts'
import type { Output } from '../show/output.ts'
import type { Kit, Show } from '../show/schema.ts'
import { dmxCables } from './packing.ts'
import { patchSheet } from './patch-sheet.ts'
import { rangeText } from './words.ts'

export interface MainsRow {
  readonly badge: string
  readonly name: string
  /** Watts at the lights, and amps from the mains, with everything on. */
  readonly watts: number
  readonly mainsAmps: number
  readonly mainsVolts: number
  /** The supply's own rating, W: what it may take at most. */
  readonly rated: number
}

export interface House {
  readonly mains: readonly MainsRow[]
  readonly watts: number
  /** Watts from the mains: those at the lights over each supply's efficiency. */
  readonly mainsWatts: number
  readonly outlets: number
  /** Guests, whose watts their builds may not say. */
  readonly guests: number
  readonly dmxCables: number
  readonly dmxBetween: number
  readonly universes: readonly { universe: number; slots: string; ways: readonly string[] }[]
  readonly rate: number
}

export function houseSheet(rig: Rig, show: Show, kit: Kit): House {
  const { boxes } = patchSheet(rig, kit)
  const mains = boxes.map(({ box, badge, name, load }) => {
    const { supply } = rig.boxes[box]!
    return {
      badge,
      name,
      watts: load.watts,
      mainsAmps: load.mainsAmps,
      mainsVolts: supply.mainsVolts,
      rated: supply.volts * supply.amps,
    }
  })
  const guests = Object.keys(kit.guests).length
  const cables = dmxCables(rig, kit)
  return {
    mains,
    watts: mains.reduce((sum, row) => sum + row.watts, 0),
    mainsWatts: mains.reduce((sum, row) => sum + row.mainsAmps * row.mainsVolts, 0),
    outlets: mains.length + guests,
    guests,
    dmxCables: cables.cables,
    dmxBetween: cables.between,
    universes: universesOf(rig, kit, show.output),
    rate: show.output.rate,
  }
}

function universesOf(rig: Rig, kit: Kit, { routes }: Output): House['universes'] {
  const ranges = new Map<number, string[]>()
  for (const id of Object.keys(kit.boxes)) {
    const box = rig.boxes[id]
    if (!box) continue
    const text = rangeText(box.address, box.decoder.channels * outputBytes(box))
    ranges.set(box.universe, [...(ranges.get(box.universe) ?? []), text])
  }
  for (const guest of Object.values(kit.guests)) {
    const slots = slotsOf(rig.builds[guest.build]?.channels ?? [])
    ranges.set(guest.universe, [...(ranges.get(guest.universe) ?? []), rangeText(guest.address, slots)])
  }
  return [...ranges]
    .sort(([a], [b]) => a - b)
    .map(([universe, slots]) => ({
      universe,
      slots: slots.join(', '),
      ways: routes.filter(route => route.universe === universe).map(wayText),
    }))
}

/** “Art-Net to 2.0.0.10, port address 0 (net 0, sub-net 0, universe 0)”. */
function wayText({ to }: Output['routes'][number]): string {
  if (to.protocol === 'sacn') {
    return `sACN (ANSI E1.31), ${to.host === 'multicast' ? 'multicast' : `to ${to.host}`}, universe ${to.wireUniverse}, priority ${to.priority}`
  }
  const { portAddress: p } = to
  return `Art-Net 4 to ${to.host}, port address ${p} (net ${p >> 8}, sub-net ${(p >> 4) & 15}, universe ${p & 15})`
}
