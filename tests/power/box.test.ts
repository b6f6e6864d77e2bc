// What a full box carries, and every fault of its sockets.

import { boxLoad } from '@glowchart/shared/power/box.ts'
import { type Rig, rigSchema } from '@glowchart/shared/rig/schema.ts'
import { kitSchema } from '@glowchart/shared/show/schema.ts'
import { describe, expect, it } from 'vitest'

const place = { x: 0, y: 0, z: 0 }

/** Eight sockets, a build in each. */
function full(draw: object, socket: object = {}, rest: { box?: object; build?: object } = {}) {
  const rig: Rig = rigSchema.parse({
    format: 'glowchart-rig',
    version: 2,
    id: 'rig',
    name: 'Shed',
    builds: {
      lamp: {
        name: 'Lamp',
        shape: 'tube',
        size: { long: 1.2, across: 0.04 },
        cells: 1,
        channels: ['red', 'green', 'blue'].map(does => ({ does, cell: 0 })),
        draw,
        ...rest.build,
      },
    },
    boxes: {
      a: {
        name: 'Box A',
        decoder: { channels: 24 },
        universe: 1,
        address: 1,
        sockets: Array.from({ length: 8 }, (_, i) => ({ id: `s${i}`, label: `${i + 1}`, ...socket })),
        ...rest.box,
      },
    },
    fixtures: Object.fromEntries(
      Array.from({ length: 8 }, (_, i) => [
        `f${i}`,
        { name: `Tube ${i + 1}`, build: 'lamp', serial: `T${i}` },
      ]),
    ),
  })
  const kit = kitSchema.parse({
    name: 'Kit',
    stage: { width: 8, depth: 4, height: 3 },
    boxes: {
      a: {
        place,
        sockets: Object.fromEntries(
          Object.keys(rig.fixtures).map((f, i) => [`s${i}`, { fixture: f, place }]),
        ),
      },
    },
    guests: {},
    parts: {},
  })
  return boxLoad(rig, kit, 'a')!
}

const faults = (load: ReturnType<typeof full>) => [...new Set(load.sockets.flatMap(socket => socket.faults))]

describe('a box with everything on', () => {
  // Eight 1.2 m tubes at 14.4 W/m: 11.5 A; a 30 A supply at 80 % (common practice, no source).
  it('of eight tubes gives 11.5 A of 24 A, 138 W, and takes 0.7 A from 230 V mains', () => {
    const load = full({ from: 'watts', metres: 1.2, wattsPerMetre: 14.4 })
    expect(load.amps).toBeCloseTo(11.52, 9)
    expect(load.continuous).toBeCloseTo(24, 9)
    expect(load.watts).toBeCloseTo(138.24, 9)
    expect(load.mainsAmps).toBeCloseTo(138.24 / 0.85 / 230, 9)
    expect(faults(load)).toEqual([])
  })

  it('leaves less at the light than the supply gives', () => {
    const [socket] = full({ from: 'watts', metres: 1.2, wattsPerMetre: 14.4 }).sockets
    expect(socket!.at.volts).toBeLessThan(12)
    expect(socket!.at.common).toBeLessThan(socket!.amps)
  })

  it.each([
    ['contact', { from: 'watts', metres: 4.5, wattsPerMetre: 14.4 }, {}, {}],
    ['output', { from: 'measured', amps: { red: 3.5, green: 0, blue: 0 } }, {}, {}],
    ['fuseSmall', { from: 'watts', metres: 2.5, wattsPerMetre: 14.4 }, { fuse: 2 }, {}],
    ['fuseLarge', { from: 'watts', metres: 1.2, wattsPerMetre: 14.4 }, { fuse: 15 }, {}],
    [
      'conductors',
      { from: 'strip', metres: 1, ledsPerMetre: 60 },
      { cable: { length: 5, wire: { awg: 16 }, conductors: 3 } },
      {},
    ],
  ])('names the fault: %s', (fault, draw, socket, rest) => {
    expect(faults(full(draw, socket, rest))).toContain(fault)
  })

  it('says that no fuse fits 10 A on 16 AWG', () => {
    const amps = { red: 10 / 3, green: 10 / 3, blue: 10 / 3 }
    const load = full(
      { from: 'measured', amps },
      { contactAmps: 15 },
      { box: { decoder: { channels: 24, ampsPerChannel: 5 } } },
    )
    expect(faults(load)).toEqual(['noFuse'])
  })

  it('is nothing when the rig does not have it', () => {
    const { rig, kit } = { rig: { boxes: {} } as Rig, kit: { boxes: {} } as never }
    expect(boxLoad(rig, kit, 'z')).toBeNull()
  })
})
