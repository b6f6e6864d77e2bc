// The patch: addresses computed from rig and kit, and every clash found and named.

import { LAST_SLOT } from '@glowchart/shared/rig/claims.ts'
import { freeAddress, patch } from '@glowchart/shared/rig/patch.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type BoxPlan, sampleRig } from './sampleRig.ts'

const eights = Array<number>(8).fill(3)
const kindsOf = (plan: Parameters<typeof sampleRig>) => {
  const { rig, kit } = sampleRig(...plan)
  return patch(rig, kit).clashes.map(c => c.kind)
}

describe('the patch of a rig as bands build them (common practice, no source)', () => {
  it('drives 8 RGB fixtures from a 24-channel decoder and 4 from a 12-channel one', () => {
    for (const [outputs, fixtures] of [
      [24, 8],
      [12, 4],
    ] as const) {
      const box = (n: number) => ({ outputs, universe: 1, address: 1, sockets: Array<number>(n).fill(3) })
      expect(kindsOf([[box(fixtures)]])).toEqual([])
      expect(kindsOf([[box(fixtures + 1)]])).toEqual(['decoderTooSmall'])
    }
  })

  it('puts sixteen RGB fixtures on two 24-channel boxes, 48 slots, the second box from 25', () => {
    const { rig, kit } = sampleRig([{ outputs: 24, universe: 1, address: 1, sockets: eights }])
    const second = freeAddress(rig, kit, 1, 24)!
    expect(second).toBe(25)
    const both = sampleRig([
      { outputs: 24, universe: 1, address: 1, sockets: eights },
      { outputs: 24, universe: 1, address: second, sockets: eights },
    ])
    const { entries, clashes } = patch(both.rig, both.kit)
    expect(clashes).toEqual([])
    expect(entries.map(e => e.address)).toEqual(Array.from({ length: 16 }, (_, i) => 1 + 3 * i))
    expect(entries.reduce((sum, e) => sum + e.slots, 0)).toBe(48)
    expect(entries[8]).toMatchObject({ fixture: 't8', universe: 1, address: 25, box: 'b1', socket: 's1' })
    expect(freeAddress(both.rig, both.kit, 1, 3)).toBe(49)
    expect(freeAddress(both.rig, both.kit, 2, 512)).toBe(1)
  })
})

it.each([
  [8, 170],
  [16, 85],
] as const)(
  'fits as many %i-bit RGB guests in a universe as 512 slots hold (ANSI E1.11: 512 data slots): %i',
  (bits, capacity) => {
    const slots = (3 * bits) / 8
    const guests = Array.from({ length: capacity }, (_, i) => ({
      universe: 1,
      address: 1 + i * slots,
      cells: 1,
      bits,
    }))
    const { rig, kit } = sampleRig([], guests)
    expect(patch(rig, kit).clashes).toEqual([])
    expect(freeAddress(rig, kit, 1, slots)).toBeNull()
    expect(freeAddress(rig, kit, 1, LAST_SLOT - capacity * slots)).toBe(1 + capacity * slots)
  },
)

describe('a socket', () => {
  it('takes two slots for every output of a 16-bit decoder', () => {
    const { rig, kit } = sampleRig([{ outputs: 6, bits: 16, universe: 1, address: 101, sockets: [3, 3] }])
    const { entries } = patch(rig, kit)
    expect(entries.map(e => [e.address, e.slots])).toEqual([
      [101, 6],
      [107, 6],
    ])
    expect(entries[1]!.channels.map(c => c.bits)).toEqual([16, 16, 16])
    expect(freeAddress(rig, kit, 1, 200)).toBe(113)
  })

  it('keeps its outputs when the socket before it is empty', () => {
    const { rig, kit } = sampleRig([{ outputs: 24, universe: 1, address: 1, sockets: eights }])
    delete kit.boxes.b0!.sockets.s1
    expect(patch(rig, kit).entries[0]).toMatchObject({ fixture: 't1', address: 4 })
  })

  it("sends swapped colours where tonight's wiring wants them", () => {
    const { rig, kit } = sampleRig([{ outputs: 3, universe: 1, address: 1, sockets: [3] }])
    kit.boxes.b0!.sockets.s1!.swap = 'gbr'
    expect(patch(rig, kit).entries[0]!.channels.map(c => c.does)).toEqual(['green', 'blue', 'red'])
  })
})

describe('a clash', () => {
  it('names both boxes, the addresses they share and a free address', () => {
    const { rig, kit } = sampleRig(
      [
        { outputs: 24, universe: 1, address: 1, sockets: eights },
        { outputs: 24, universe: 1, address: 13, sockets: eights },
      ],
      [{ universe: 1, address: 37, cells: 1 }],
    )
    expect(patch(rig, kit).clashes).toEqual([
      {
        kind: 'overlap',
        place: { universe: 1, address: 13, box: 'b1', others: ['b0'] },
        says: 'Box 1 (1 to 24) and Box 2 (13 to 36) both listen to addresses 13 to 24 of universe 1.',
        remedy: 'Set Box 2 to address 40, here and on the device, or move it to another universe.',
      },
    ])
  })

  it('is none when the same addresses are in different universes', () => {
    expect(
      kindsOf([
        [
          { outputs: 24, universe: 1, address: 1, sockets: eights },
          { outputs: 24, universe: 2, address: 1, sockets: eights },
        ],
      ]),
    ).toEqual([])
  })

  it('is found between a guest and a box, and between two guests', () => {
    const box = { outputs: 24, universe: 1, address: 1, sockets: eights }
    const { rig, kit } = sampleRig(
      [box],
      [
        { universe: 1, address: 24, cells: 1 },
        { universe: 1, address: 26, cells: 2 },
      ],
    )
    expect(patch(rig, kit).clashes.map(c => [c.kind, c.place.fixture, c.place.others])).toEqual([
      ['overlap', 'g0', ['b0']],
      ['overlap', 'g1', ['g0']],
    ])
  })

  it('says when a box or a guest runs past slot 512, and sends nothing there', () => {
    const { rig, kit } = sampleRig(
      [{ outputs: 24, universe: 1, address: 490, sockets: eights }],
      [{ universe: 2, address: 511, cells: 1 }],
    )
    const { entries, clashes } = patch(rig, kit)
    expect(clashes.map(c => [c.kind, c.place.box ?? c.place.fixture])).toEqual([
      ['past512', 'b0'],
      ['past512', 'g0'],
    ])
    expect(clashes[0]!.remedy).toContain('address 489 or lower')
    expect(entries.find(e => e.fixture === 't7')).toMatchObject({ address: 511, slots: 2 })
    expect(entries.find(e => e.fixture === 'g0')).toMatchObject({ address: 511, slots: 2 })
  })

  it('says when a fixture needs more channels than its socket has', () => {
    const { rig, kit } = sampleRig([{ outputs: 3, universe: 1, address: 1, sockets: [2] }])
    const { entries, clashes } = patch(rig, kit)
    expect(clashes.map(c => c.says)).toEqual(['Tube 1 needs 3 channels; Box 1, socket 1 has 2.'])
    expect(entries[0]!.channels.map(c => c.does)).toEqual(['red', 'green'])
  })

  it('says where a fixture stands when it is in two places', () => {
    const { rig, kit } = sampleRig([{ outputs: 6, universe: 1, address: 1, sockets: [3, 3] }])
    kit.boxes.b0!.sockets.s2!.fixture = 't0'
    expect(patch(rig, kit).clashes.map(c => [c.kind, c.says])).toEqual([
      ['placedTwice', 'Tube 1 is in 2 places at once: Box 1, socket 1; Box 1, socket 2.'],
    ])
  })

  it('names every box, socket, fixture and build that the rig does not have', () => {
    const { rig, kit } = sampleRig(
      [{ outputs: 12, universe: 1, address: 1, sockets: [3, 3, 3] }],
      [{ universe: 2, address: 1, cells: 1 }],
    )
    kit.boxes.gone = { place: { x: 0, y: 0, z: 0 }, sockets: {} }
    kit.boxes.b0!.sockets.s9 = kit.boxes.b0!.sockets.s3!
    delete kit.boxes.b0!.sockets.s3
    delete rig.fixtures.t0
    rig.fixtures.t1!.build = 'lost'
    delete rig.builds.bar0
    const { entries, clashes } = patch(rig, kit)
    expect(entries).toEqual([])
    expect(clashes.map(c => c.kind)).toEqual(Array(5).fill('unknown'))
    expect(clashes.map(c => c.says)).toEqual([
      'Box 1, socket 1 names the fixture "t0", which the rig does not have.',
      'Tube 2 names the build "lost", which the rig does not have.',
      'Box 1 names the socket "s9", which the rig does not have.',
      'The kit names the box "gone", which the rig does not have.',
      'Guest 1 names the build "bar0", which the rig does not have.',
    ])
  })
})

describe('of any rig', () => {
  const bits = fc.constantFrom<8 | 16>(8, 16)
  const address = fc.oneof(fc.integer({ min: 1, max: 80 }), fc.integer({ min: 1, max: 512 }))
  const universe = fc.integer({ min: 1, max: 2 })
  const box = fc.record({
    outputs: fc.integer({ min: 1, max: 40 }),
    universe,
    address,
    bits,
    sockets: fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 8 }),
    filled: fc.nat(8),
  })
  const guest = fc.record({ universe, address, cells: fc.integer({ min: 1, max: 8 }), bits })
  const rigs = fc.tuple(fc.array(box, { maxLength: 5 }), fc.array(guest, { maxLength: 5 }))

  /** Slot by slot, who listens: worked out anew from the plan. */
  const listeners = (
    boxes: readonly BoxPlan[],
    guests: readonly { universe: number; address: number; cells: number; bits: 8 | 16 }[],
  ) => {
    const at = new Map<string, string[]>()
    const claim = (id: string, u: number, from: number, slots: number) => {
      for (let slot = from; slot < from + slots; slot++)
        at.set(`${u}/${slot}`, [...(at.get(`${u}/${slot}`) ?? []), id])
    }
    for (const [i, b] of boxes.entries())
      claim(`b${i}`, b.universe, b.address, (b.outputs * (b.bits ?? 8)) / 8)
    for (const [i, g] of guests.entries()) claim(`g${i}`, g.universe, g.address, (g.cells * 3 * g.bits) / 8)
    return at
  }

  it('two claims share a slot exactly when an overlap names the two', () => {
    fc.assert(
      fc.property(rigs, ([boxes, guests]) => {
        const { rig, kit } = sampleRig(boxes, guests)
        const shared = new Set<string>()
        for (const ids of listeners(boxes, guests).values()) {
          for (const a of ids) for (const b of ids) if (a < b) shared.add(`${a} ${b}`)
        }
        const named = patch(rig, kit)
          .clashes.filter(c => c.kind === 'overlap')
          .map(c => [c.place.box ?? c.place.fixture!, c.place.others![0]!].sort().join(' '))
        expect(named.sort()).toEqual([...shared].sort())
      }),
      { numRuns: 300 },
    )
  })

  it('no two fixtures are sent on one slot unless an overlap says so', () => {
    fc.assert(
      fc.property(rigs, ([boxes, guests]) => {
        const { rig, kit } = sampleRig(boxes, guests)
        const { entries, clashes } = patch(rig, kit)
        const slots = entries.flatMap(e =>
          Array.from({ length: e.slots }, (_, i) => `${e.universe}/${e.address + i}`),
        )
        if (!clashes.some(c => c.kind === 'overlap')) expect(new Set(slots).size).toBe(slots.length)
      }),
      { numRuns: 300 },
    )
  })

  it('every fixture has all its channels inside its box and its universe, or a clash names its box, socket or itself', () => {
    fc.assert(
      fc.property(rigs, ([boxes, guests]) => {
        const { rig, kit } = sampleRig(boxes, guests)
        const { entries, clashes } = patch(rig, kit)
        for (const e of entries) {
          if (e.slots > 0) expect(e.address + e.slots - 1).toBeLessThanOrEqual(LAST_SLOT)
          const plan = e.box === undefined ? undefined : boxes[Number(e.box.slice(1))]!
          if (plan && e.slots > 0) {
            expect(e.address).toBeGreaterThanOrEqual(plan.address)
            expect(e.address + e.slots).toBeLessThanOrEqual(
              plan.address + (plan.outputs * (plan.bits ?? 8)) / 8,
            )
          }
          const wants = e.box === undefined ? 3 * guests[Number(e.fixture.slice(1))]!.cells : 3
          if (e.channels.length < wants) {
            const said = clashes.some(
              c =>
                c.kind !== 'overlap' &&
                (c.place.fixture === e.fixture || (e.box !== undefined && c.place.box === e.box)),
            )
            expect(said).toBe(true)
          }
        }
      }),
      { numRuns: 300 },
    )
  })

  it('lists fixtures in the order of the stage when nothing clashes', () => {
    fc.assert(
      fc.property(rigs, ([boxes, guests]) => {
        const { rig, kit } = sampleRig(boxes, guests)
        const { entries, clashes } = patch(rig, kit)
        fc.pre(clashes.length === 0)
        expect(entries.map(e => e.fixture)).toEqual(stageOf(rig, kit).fixtures.map(f => f.id))
      }),
      { numRuns: 300 },
    )
  })

  it('offers as free address the lowest that no claim touches', () => {
    fc.assert(
      fc.property(rigs, universe, fc.integer({ min: 1, max: 60 }), ([boxes, guests], u, slots) => {
        const { rig, kit } = sampleRig(boxes, guests)
        const taken = listeners(boxes, guests)
        const isFree = (start: number) =>
          start + slots - 1 <= LAST_SLOT &&
          Array.from({ length: slots }, (_, i) => `${u}/${start + i}`).every(s => !taken.has(s))
        const first = Array.from({ length: LAST_SLOT }, (_, i) => i + 1).find(isFree)
        expect(freeAddress(rig, kit, u, slots)).toBe(first ?? null)
      }),
      { numRuns: 100 },
    )
  })
})
