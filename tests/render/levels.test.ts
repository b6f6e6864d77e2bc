// Light to DMX levels and back: channel orders, white, dimmers, 16 bit, response, balance, swapped wires.

import { luminanceOf } from '@glowchart/shared/light/lightness.ts'
import { fromLevels, levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { type Rig, rigSchema } from '@glowchart/shared/rig/schema.ts'
import { type Kit, kitSchema } from '@glowchart/shared/show/schema.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { smallShow } from './small-show.ts'

type Build = Record<string, unknown> & { channels: unknown[] }
const place = { x: 0, y: 0, z: 1 }
const rgb = (cell = 0) => ['red', 'green', 'blue'].map(does => ({ does, cell }))

/** One rented fixture at address 10 of universe 3. */
function rented(build: Build): { rig: Rig; kit: Kit } {
  const rig = rigSchema.parse({
    format: 'glowchart-rig',
    version: 2,
    id: 'rig',
    name: 'Shed',
    builds: { lamp: { name: 'Lamp', shape: 'bulb', size: { long: 0.2, across: 0.2 }, cells: 1, ...build } },
    boxes: {},
    fixtures: {},
  })
  const kit = kitSchema.parse({
    name: 'Kit',
    stage: { width: 8, depth: 4, height: 4 },
    boxes: {},
    guests: { g: { name: 'G', build: 'lamp', universe: 3, address: 10, place } },
    parts: {},
  })
  return { rig, kit }
}

/** The bytes from address 10 on that a fixture of this build gets for a light, and the light they make. */
function sent(build: Build, ...light: number[]) {
  const { rig, kit } = rented(build)
  const plan = levelPlan(rig, kit)
  expect(plan.universes).toEqual([3])
  const out = new Uint8Array(512)
  toLevels(plan, Float32Array.from(light), out)
  const seen = new Float32Array(light.length)
  fromLevels(plan, out, seen)
  const used = build.channels.reduce<number>(
    (sum, c) => sum + ((c as { bits?: number }).bits === 16 ? 2 : 1),
    0,
  )
  expect([...out].filter((v, i) => v !== 0 && (i < 9 || i >= 9 + used))).toEqual([])
  return { bytes: [...out.subarray(9, 9 + used)], seen: [...seen].map(v => Math.round(v * 1e4) / 1e4) }
}

describe('levels of a fixture', () => {
  it('are its light, rounded half up, in the order of its channels', () => {
    expect(sent({ channels: rgb() }, 1, 0.5, 0.25).bytes).toEqual([255, 128, 64])
    const grb = [rgb()[1], rgb()[0], rgb()[2]]
    expect(sent({ channels: grb }, 1, 0.5, 0.25).bytes).toEqual([128, 255, 64])
    expect(sent({ channels: rgb() }, 0.5 / 255, 0.499 / 255, 254.51 / 255).bytes).toEqual([1, 0, 255])
  })

  it('come coarse and fine at 16 bit, and show steps that 8 bit hides', () => {
    const channels = rgb().map(c => ({ ...c, bits: 16 }))
    expect(sent({ channels }, 1, 0.5, luminanceOf(1 / 255)).bytes).toEqual([255, 255, 128, 0, 0, 28])
  })

  it('undo the response curve: light 0.2195 is level 128 at gamma 2.2', () => {
    const response = { curve: 'gamma', gamma: 2.2 }
    const { bytes, seen } = sent({ channels: rgb(), response }, 0.21951972, 1, 0)
    expect(bytes).toEqual([128, 255, 0])
    expect(seen).toEqual([0.2195, 1, 0])
  })

  it('are balanced, and the preview shows balanced white as white', () => {
    const { bytes, seen } = sent({ channels: rgb(), whiteBalance: [1, 0.8, 0.5] }, 1, 1, 1)
    expect(bytes).toEqual([255, 204, 128])
    expect(seen.slice(0, 2)).toEqual([1, 1])
    expect(seen[2]).toBeCloseTo(1, 2)
  })

  it('give white what the colours share', () => {
    const channels = [...rgb(), { does: 'white', cell: 0 }]
    const { bytes, seen } = sent({ channels }, 1, 0.6, 0.2)
    expect(bytes).toEqual([204, 102, 0, 51])
    expect(seen).toEqual([1, 0.6, 0.2])
  })

  it('give a lamp of white alone, or of a dimmer alone, the greatest of the colours', () => {
    expect(sent({ channels: [{ does: 'white', cell: 0 }] }, 0.2, 0.6, 0.4)).toEqual({
      bytes: [153],
      seen: [0.6, 0.6, 0.6],
    })
    expect(sent({ channels: [{ does: 'intensity' }] }, 0.2, 0.6, 0.4)).toEqual({
      bytes: [153],
      seen: [0.6, 0.6, 0.6],
    })
  })

  it('give a dimmer the greatest of all cells and every colour its share of it', () => {
    const channels = [{ does: 'intensity' }, ...rgb(0), ...rgb(1)]
    const { bytes, seen } = sent({ cells: 2, channels }, 0.4, 0.2, 0, 0, 0.1, 0)
    expect(bytes).toEqual([102, 255, 128, 0, 0, 64, 0])
    expect(seen[0]).toBeCloseTo(0.4, 2)
    expect(seen[4]).toBeCloseTo(0.1, 2)
    expect(sent({ cells: 2, channels }, 0, 0, 0, 0, 0, 0).bytes).toEqual([0, 0, 0, 0, 0, 0, 0])
  })

  it('send what is fixed, light or not', () => {
    const channels = [...rgb(), { does: 'fixed', value: 0.5 }, { does: 'fixed', value: 1, bits: 16 }]
    expect(sent({ channels }, 0, 0, 0).bytes).toEqual([0, 0, 0, 128, 255, 255])
  })

  it('are within 0…255 and come back as light within half a step, for any light', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true })
    const builds: Build[] = [
      { channels: rgb() },
      { channels: [...rgb(), { does: 'white', cell: 0 }] },
      { channels: rgb().map(c => ({ ...c, bits: 16 })) },
      { channels: [{ does: 'intensity', bits: 16 }, ...rgb()] },
    ]
    fc.assert(
      fc.property(fc.constantFrom(...builds), share, share, share, (build, ...light) => {
        const { rig, kit } = rented(build)
        const plan = structuredClone(levelPlan(rig, kit))
        const out = new Uint8Array(512)
        const seen = new Float32Array(3)
        toLevels(plan, Float32Array.from(light), out)
        fromLevels(plan, out, seen)
        seen.forEach((v, i) => {
          expect(Math.abs(v - light[i]!)).toBeLessThan(1.05 / 255)
        })
      }),
    )
  })
})

describe('a kit of boxes', () => {
  it('sends sixteen RGB fixtures by two 24-channel boxes: 48 slots, the second from 25 (common practice, no source)', () => {
    const socket = (i: number) => ({ id: `s${i}`, label: `${i + 1}` })
    const sockets = Array.from({ length: 8 }, (_, i) => socket(i))
    const box = (address: number) => ({
      name: 'Box',
      decoder: { channels: 24 },
      universe: 1,
      address,
      sockets,
    })
    const names = Array.from({ length: 16 }, (_, i) => `f${i}`)
    const rig = rigSchema.parse({
      format: 'glowchart-rig',
      version: 2,
      id: 'rig',
      name: 'Shed',
      builds: {
        lamp: { name: 'Lamp', shape: 'bulb', size: { long: 0.2, across: 0.2 }, cells: 1, channels: rgb() },
      },
      boxes: { a: box(1), b: box(25) },
      fixtures: Object.fromEntries(names.map(name => [name, { name, build: 'lamp', serial: name }])),
    })
    const stands = (first: number) =>
      Object.fromEntries(
        sockets.map((s, i) => [
          s.id,
          { fixture: `f${first + i}`, place, ...(first + i === 9 ? { swap: 'grb' } : {}) },
        ]),
      )
    const kit = kitSchema.parse({
      name: 'Kit',
      stage: { width: 8, depth: 4, height: 4 },
      boxes: { a: { place, sockets: stands(0) }, b: { place, sockets: stands(8) } },
      guests: {},
      parts: {},
    })
    const plan = levelPlan(rig, kit)
    const light = Float32Array.from({ length: 48 }, (_, i) => (i + 1) / 255)
    const out = new Uint8Array(512)
    toLevels(plan, light, out)
    // Fixture 9 has red and green swapped.
    const expected = Array.from({ length: 48 }, (_, i) => i + 1)
    expected[27] = 29
    expected[28] = 28
    expect([...out.subarray(0, 50)]).toEqual([...expected, 0, 0])
    const seen = new Float32Array(48)
    fromLevels(plan, out, seen)
    seen.forEach((v, i) => {
      expect(v).toBeCloseTo(light[i]!, 6)
    })
  })

  it('puts 170 RGB fixtures in a universe and the next in the second', () => {
    const { rig, kit } = smallShow({ fixtures: 171 })
    const plan = levelPlan(rig, kit)
    const out = new Uint8Array(1024)
    toLevels(plan, new Float32Array(171 * 3).fill(1), out)
    expect(plan.universes).toEqual([1, 2])
    expect(out.subarray(0, 510).every(v => v === 255)).toBe(true)
    expect([...out.subarray(510, 517)]).toEqual([0, 0, 255, 255, 255, 0, 0])
  })
})
