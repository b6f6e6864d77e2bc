// The pack list: what goes into the van for a kit, counted by case, and the spares that go with it.

import type { Rig } from '../rig/schema.ts'
import { stockOf } from '../rig/spares.ts'
import type { Kit } from '../show/schema.ts'
import { badgesOf, metresText, wireText } from './words.ts'

export interface PackRow {
  readonly what: string
  readonly count: number
  /** Serials, lengths, which plug: what tells this one from the next. */
  readonly which: string
}

export interface Case {
  readonly name: string
  readonly rows: readonly PackRow[]
  /** Where its counts come from when they are not in the documents. */
  readonly practice?: string
}

export interface PackList {
  readonly cases: readonly Case[]
  /** Of the lights and guests whose builds say so; null when none does. */
  readonly kilograms: number | null
}

/** Higher than this, m, a light hangs; lower, it stands. */
const HANGS = 1.6

/** One in ten, and one at least. Common practice, no source. */
export const sparesFor = (count: number): number => (count === 0 ? 0 : Math.max(1, Math.ceil(count / 10)))

/** Counts what a kit needs. Boxes and fixtures that the rig does not have are left out; the advice names them. */
export function packList(rig: Rig, kit: Kit): PackList {
  const badges = badgesOf(rig, kit)
  const out = Object.keys(kit.boxes).flatMap(id => {
    const box = rig.boxes[id]
    return box ? [{ id, box, stands: kit.boxes[id]!.sockets }] : []
  })
  const plugged = out.flatMap(({ id, box, stands }) =>
    box.sockets.flatMap(socket => {
      const stand = stands[socket.id]
      const fixture = stand && rig.fixtures[stand.fixture]
      return stand && fixture
        ? [{ socket, stand, fixture, id: stand.fixture, plug: `${badges[id]}${socket.label}` }]
        : []
    }),
  )

  const boxes: PackRow[] = out.map(({ id, box }) => ({
    what: box.name,
    count: 1,
    which: `badge ${badges[id]}, ${box.supply.volts} V ${box.supply.amps} A supply, decoder of ${box.decoder.channels} channels`,
  }))

  const byBuild = new Map<string, typeof plugged>()
  // What is missing tonight is not packed, nor is it a spare; its cable comes along.
  const there = plugged.filter(one => !one.stand.missing)
  for (const one of there) {
    byBuild.set(one.fixture.build, [...(byBuild.get(one.fixture.build) ?? []), one])
  }
  const spares: PackRow[] = []
  const lights: PackRow[] = [...byBuild].map(([build, list]) => {
    const name = rig.builds[build]?.name ?? build
    const stock = stockOf(rig, kit, build)
    const serials = (ids: readonly string[]) => ids.map(id => withFaults(rig.fixtures[id]!)).join(', ')
    if (stock.spare.length > 0) {
      spares.push({
        what: `${name}, spare`,
        count: Math.min(stock.spare.length, sparesFor(list.length)),
        which: `of ${serials(stock.spare)}`,
      })
    }
    const packed = new Set(list.map(one => one.id))
    return { what: name, count: list.length, which: serials(stock.standing.filter(id => packed.has(id))) }
  })
  for (const guest of Object.values(kit.guests)) {
    lights.push({ what: guest.name, count: 1, which: 'rented, with its own mains lead' })
  }

  const cables = counted(
    plugged.map(({ socket: { cable }, plug }) => ({
      what: `${metresText(cable.length)}, ${wireText(cable.wire)}, ${cable.conductors} conductors`,
      order: cable.length,
      plug,
    })),
  )
  const longest = cables.at(-1)
  const hanging = there.filter(one => one.stand.place.z > HANGS)
  const standing = there.filter(one => one.stand.place.z <= HANGS)
  const hung = Object.values(kit.guests).filter(g => g.place.z > HANGS).length
  const guests = Object.keys(kit.guests).length
  const links = dmxCables(rig, kit)
  const fuses = counted(
    plugged.flatMap(({ socket, plug }) =>
      socket.fuse === undefined ? [] : [{ what: `Blade fuse ${socket.fuse} A`, order: socket.fuse, plug }],
    ),
  )

  const cases: Case[] = [
    { name: 'Boxes', rows: boxes },
    { name: 'Lights', rows: [...lights, ...spares] },
    {
      name: 'Cables to the lights',
      rows: [
        ...cables.map(({ what, plugs }) => ({ what, count: plugs.length, which: plugs.join(', ') })),
        ...(longest
          ? [
              {
                what: 'Spare cables',
                count: sparesFor(plugged.length),
                which: `the longest kind, ${longest.what}`,
              },
            ]
          : []),
      ],
      practice: 'Spares: one in ten, one at least.',
    },
    {
      name: 'Stands and hanging points',
      rows: [
        { what: 'Stands, feet', count: standing.length, which: standing.map(one => one.plug).join(', ') },
        {
          what: 'Hooks and safety wires',
          count: hanging.length + hung,
          which: hanging.map(one => one.plug).join(', '),
        },
      ].filter(row => row.count > 0),
      practice: `A light higher than ${metresText(HANGS)} hangs.`,
    },
    {
      name: 'Mains and data',
      rows: [
        { what: 'Mains leads', count: out.length + guests, which: 'one a box, one a rented light' },
        { what: 'Mains leads, spare', count: sparesFor(out.length + guests), which: '' },
        { what: 'DMX cables', count: links.cables, which: links.which },
        { what: 'DMX cables, spare', count: sparesFor(links.cables), which: '' },
        { what: 'DMX terminators, 120 Ω', count: links.universes, which: 'last decoder of each chain' },
        { what: 'Node, its supply, network cable', count: 1, which: '' },
        { what: 'Laptop and its supply', count: 1, which: '' },
      ].filter(row => row.count > 0),
      practice: 'Sixteen lights from two boxes need two mains outlets and one DMX cable between the boxes.',
    },
    {
      name: 'Tools and small spares',
      rows: [
        ...fuses.map(({ what, plugs }) => ({
          what,
          count: Math.max(2, sparesFor(plugs.length)),
          which: `for ${plugs.length} sockets`,
        })),
        { what: 'Meter, screwdriver, torch', count: 1, which: '' },
        { what: 'Tape for cables and labels', count: 2, which: '' },
      ],
      practice: 'Fuses: two of each kind at least.',
    },
  ]
  return { cases: cases.filter(c => c.rows.length > 0), kilograms: weightOf(rig, kit, plugged) }
}

/** “TU-003”, “TU-003 (open fault)”. */
const withFaults = ({ serial, faults }: Rig['fixtures'][string]): string =>
  faults.length > 0 ? `${serial} (open fault)` : serial

/** Things that are alike, and the plugs they go to; in order of size. */
function counted(
  all: readonly { what: string; order: number; plug: string }[],
): { what: string; plugs: string[] }[] {
  const kinds = new Map<string, { order: number; plugs: string[] }>()
  for (const { what, order, plug } of all) {
    const kind = kinds.get(what) ?? { order, plugs: [] }
    kind.plugs.push(plug)
    kinds.set(what, kind)
  }
  return [...kinds].sort(([, a], [, b]) => a.order - b.order).map(([what, { plugs }]) => ({ what, plugs }))
}

/**
 * DMX cables for a chain a universe: from the node to its first box or guest, and from each to the next. Common
 * practice, no source.
 */
export function dmxCables(
  rig: Rig,
  kit: Kit,
): { universes: number; cables: number; between: number; which: string } {
  const chains = new Map<number, number>()
  const on = [
    ...Object.keys(kit.boxes).flatMap(id => rig.boxes[id]?.universe ?? []),
    ...Object.values(kit.guests).map(guest => guest.universe),
  ]
  for (const universe of on) chains.set(universe, (chains.get(universe) ?? 0) + 1)
  const between = on.length - chains.size
  const which = `${chains.size} from the node, ${between} from box to box`
  return { universes: chains.size, cables: on.length, between, which }
}

function weightOf(rig: Rig, kit: Kit, plugged: readonly { fixture: { build: string } }[]): number | null {
  const builds = [
    ...plugged.map(one => one.fixture.build),
    ...Object.values(kit.guests).map(guest => guest.build),
  ]
  const weights = builds.flatMap(build => rig.builds[build]?.kilograms ?? [])
  return weights.length === 0 ? null : weights.reduce((sum, kg) => sum + kg, 0)
}
