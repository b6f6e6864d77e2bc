// New builds and boxes: what they start as, what they need, and where they find room.

import { ampsOf, cutOf, fullAmps } from '@glowchart/shared/power/draw.ts'
import { freePlace, newBox, withMoreSockets } from '@glowchart/shared/rig/box-new.ts'
import { newBuild } from '@glowchart/shared/rig/build-new.ts'
import { channelsOfPlain, plainOf } from '@glowchart/shared/rig/build-order.ts'
import { costOf, partsNeeded } from '@glowchart/shared/rig/build-parts.ts'
import { plugOf } from '@glowchart/shared/rig/build-plug.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import { type Rig, rigSchema, shapes } from '@glowchart/shared/rig/schema.ts'
import { describe, expect, it } from 'vitest'
import { sampleRig } from './sampleRig.ts'

const empty: Rig = rigSchema.parse({
  format: 'glowchart-rig',
  version: 2,
  id: 'rig',
  name: 'Shed',
  builds: {},
  boxes: {},
  fixtures: {},
})

describe('a new build', () => {
  it('is whole in every shape, and draws something', () => {
    for (const shape of shapes) {
      const build = newBuild(shape, {})
      expect(rigSchema.shape.builds.valueType.parse(build)).toEqual(build)
      expect(fullAmps(build)).toBeGreaterThan(0)
    }
  })

  it('has a name that no other build has', () => {
    const first = newBuild('tube', {})
    const second = newBuild('tube', { a: first })
    expect([first.name, second.name]).toEqual(['Tube', 'Tube 2'])
    expect(newBuild('tube', { a: first, b: second }).name).toBe('Tube 3')
  })

  it('draws 1.44 A as a tube of 1.2 m, so that eight draw 11.5 A', () => {
    // A strip of 60 LEDs a metre draws 14.4 W/m at 12 V; the issue: "Eight 1.2 m tubes at 14.4 W/m draw 11.5 A".
    const tube = newBuild('tube', {})
    expect(fullAmps(tube) * 8).toBeCloseTo(11.52, 9)
    expect(ampsOf(tube).red).toBeCloseTo(0.48, 9)
    expect(cutOf(tube)?.segments).toBe(24)
  })

  it('draws 0.18 A as a bulb of three segments, so that eight draw 1.44 A', () => {
    expect(fullAmps(newBuild('bulb', {})) * 8).toBeCloseTo(1.44, 9)
  })
})

describe('a list of channels', () => {
  it('is known again by its order, cells, bits, white and dimmer', () => {
    for (const plain of [
      { order: 'rgb', cells: 1, bits: 8, white: false, intensity: false },
      { order: 'grb', cells: 3, bits: 16, white: true, intensity: true },
      { order: 'brg', cells: 2, bits: 8, white: true, intensity: false },
    ] as const) {
      expect(plainOf({ channels: channelsOfPlain(plain), cells: plain.cells })).toEqual(plain)
    }
  })

  it('of another kind is none of them', () => {
    const channels = [
      ...newBuild('tube', {}).channels,
      { does: 'fixed' as const, value: 0.5, bits: 8 as const },
    ]
    expect(plainOf({ channels, cells: 1 })).toBeNull()
  })
})

describe('the parts of a build', () => {
  it('are the strip by whole segments and a plug, at the prices that are known', () => {
    const tube = newBuild('tube', {})
    const draw = { ...tube.draw, metres: 1.23 } as typeof tube.draw
    const what = 'Strip, 12 V, 60 LEDs a metre, metres'
    const parts = partsNeeded({ ...tube, draw, parts: [{ what, count: 9, price: 4.5 }] })
    expect(parts).toEqual([
      { what, count: 1.2, price: 4.5 },
      { what: 'Plug, 4 contacts', count: 1 },
    ])
    expect(costOf(parts)).toEqual({ sum: 1.2 * 4.5, unpriced: 1 })
  })
})

describe('a plug from its solder side', () => {
  it('has its contacts clockwise from the right of the top', () => {
    const plug = plugOf(['common', 'red', 'green', 'blue'])
    expect(plug.map(contact => contact.letter).join('')).toBe('ABCD')
    expect(plug.map(({ x, y }) => `${x > 0 ? 'right' : 'left'} ${y < 0 ? 'top' : 'bottom'}`)).toEqual([
      'right top',
      'right bottom',
      'left bottom',
      'left top',
    ])
    for (const { x, y } of plug) expect(Math.hypot(x, y)).toBeCloseTo(1, 12)
  })
})

describe('a new box', () => {
  it('stands after the one before it: two boxes of eight sockets are 1–24 and 25–48', () => {
    const a = newBox(empty, undefined)
    const b = newBox({ ...empty, boxes: { a } }, undefined)
    expect([a.name, a.universe, a.address, a.sockets.length]).toEqual(['Box A', 1, 1, 8])
    expect([b.name, b.universe, b.address, b.sockets.length]).toEqual(['Box B', 1, 25, 8])
  })

  it('keeps clear of guests and of boxes that stay at home, and goes on to the next universe', () => {
    const { rig, kit } = sampleRig(
      [{ outputs: 500, universe: 1, address: 1, sockets: [3] }],
      [{ universe: 2, address: 1, cells: 2 }],
    )
    const box = newBox(rig, kit)
    expect([box.universe, box.address]).toEqual([2, 7])
    const atHome = { ...kit, boxes: {} }
    expect(newBox(rig, atHome).universe).toBe(2)
    const both = { ...rig, boxes: { ...rig.boxes, box } }
    const out = { ...kit, boxes: { ...kit.boxes, box: { place: { x: 0, y: 0, z: 0 }, sockets: {} } } }
    expect(patch(both, out).clashes).toEqual([])
  })

  it('does not stand in its own way', () => {
    const { rig, kit } = sampleRig([{ outputs: 24, universe: 1, address: 100, sockets: [3] }])
    expect(freePlace(rig, kit, rig.boxes.b0!, 'b0')).toEqual({ universe: 1, address: 1 })
  })

  it('gets more sockets like one that it has, under labels and ids of their own', () => {
    const box = newBox(empty, undefined)
    const like = { ...box.sockets[2]!, fuse: 5 }
    const more = withMoreSockets({ ...box, sockets: box.sockets.toSpliced(1, 1) }, like, 2)
    expect(more.sockets.map(socket => socket.id)).toEqual([...'1345678'].map(n => `s${n}`).concat('s2', 's9'))
    expect(more.sockets.at(-1)).toEqual({ ...like, id: 's9', label: '9' })
  })
})
