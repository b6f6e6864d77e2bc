// Lightness, sRGB and OKLab against two independent colour libraries, and against computed tables.

import { GRADIENT_STEPS, gradientTable } from '@glowchart/shared/light/gradient.ts'
import { lightnessOf, luminanceOf } from '@glowchart/shared/light/lightness.ts'
import { linearOfOklab, oklabOf } from '@glowchart/shared/light/oklab.ts'
import { decodeSrgb, encodeSrgb, type LinearRgb, linearOfHex } from '@glowchart/shared/light/srgb.ts'
import Color from 'colorjs.io'
import { converter, interpolate } from 'culori'
import { describe, expect, it } from 'vitest'

const hexes = [
  '#000000',
  '#ffffff',
  '#ff0000',
  '#00ff00',
  '#0000ff',
  '#ff8000',
  '#0080ff',
  '#123456',
  '#fedcba',
]
const grey = (y: number) => ({ mode: 'xyz65' as const, x: 0.950456 * y, y, z: 1.089058 * y })
/** White of D65 in colorjs.io, so that only Y matters. */
const starOf = (y: number) => new Color('xyz-d65', [0.950456 * y, y, 1.089058 * y]).to('lab-d65').coords[0]!

describe('lightness (CIE 15, CIE 1976 L*)', () => {
  it('agrees with culori 4.0.2 and colorjs.io 0.7.1 over the whole range', () => {
    const lab = converter('lab65')
    for (let i = 0; i <= 1000; i++) {
      const y = (i / 1000) ** 3
      expect(lightnessOf(y) * 100).toBeCloseTo(lab(grey(y)).l, 6)
      expect(lightnessOf(y) * 100).toBeCloseTo(starOf(y), 6)
    }
  })

  it.each([
    [0.001, 0.9033],
    [0.01, 8.9914],
    [0.05, 26.7348],
    [0.1, 37.8424],
    [0.18, 49.4961],
    [0.25, 57.0754],
    [0.5, 76.0693],
    [0.75, 89.393],
    [1, 100],
  ])('makes L* of Y %f (table computed from CIE 15)', (y, star) => {
    expect(lightnessOf(y) * 100).toBeCloseTo(star, 4)
  })

  it.each([
    [1, 0.00110706],
    [5, 0.00553528],
    [10, 0.0112602],
    [20, 0.02989052],
    [25, 0.04415477],
    [40, 0.11250974],
    [50, 0.18418652],
    [75, 0.48278104],
    [90, 0.76303354],
  ])('makes Y of L* %f (table computed from CIE 15)', (star, y) => {
    expect(luminanceOf(star / 100)).toBeCloseTo(y, 8)
  })

  it('goes both ways without a gap, and only ever rises', () => {
    let before = -1
    for (let i = 0; i <= 10_000; i++) {
      const y = luminanceOf(i / 10_000)
      expect(y).toBeGreaterThan(before)
      expect(lightnessOf(y)).toBeCloseTo(i / 10_000, 12)
      before = y
    }
    expect(before).toBe(1)
  })

  it('as an 8-bit level gives 174 different 8-bit outputs, the first lit one at 5 (computed from CIE 15)', () => {
    const outputs = Array.from({ length: 256 }, (_, v) => Math.floor(luminanceOf(v / 255) * 255 + 0.5))
    expect(new Set(outputs).size).toBe(174)
    expect(outputs.filter(v => v === 0)).toHaveLength(5)
    expect([1, 16, 32, 64, 128, 192].map(v => outputs[v])).toEqual([0, 2, 4, 11, 47, 124])
    const fine = [1, 16, 32, 64, 128, 192].map(v => Math.floor(luminanceOf(v / 255) * 65535 + 0.5))
    expect(fine).toEqual([28, 455, 977, 2914, 12179, 31947])
  })
})

describe('sRGB (IEC 61966-2-1)', () => {
  it('agrees with culori and colorjs.io', () => {
    const linear = converter('lrgb')
    for (let i = 0; i <= 255; i++) {
      const hex = `#${i.toString(16).padStart(2, '0').repeat(3)}`
      const [r] = linearOfHex(hex)
      expect(r).toBeCloseTo(linear(hex)!.r, 10)
      expect(r).toBeCloseTo(new Color(hex).to('srgb-linear').coords[0]!, 10)
    }
    for (const hex of hexes) {
      const { r, g, b } = linear(hex)!
      linearOfHex(hex).forEach((v, i) => {
        expect(v).toBeCloseTo([r, g, b][i]!, 10)
      })
    }
  })

  it.each([
    [0.1, 0.01002283],
    [0.2, 0.03310477],
    [0.5, 0.21404114],
    [128 / 255, 0.2158605],
    [0.8, 0.60382734],
  ])('decodes %f (table computed from IEC 61966-2-1)', (value, light) => {
    expect(decodeSrgb(value)).toBeCloseTo(light, 8)
    expect(encodeSrgb(light)).toBeCloseTo(value, 7)
  })

  it.each([
    [0.01, 0.09985282],
    [0.18, 0.46135613],
    [0.5, 0.73535698],
  ])('encodes %f (table computed from IEC 61966-2-1)', (light, value) => {
    expect(encodeSrgb(light)).toBeCloseTo(value, 8)
  })
})

describe('OKLab', () => {
  it('agrees with culori and colorjs.io, there and back', () => {
    const oklab = converter('oklab')
    for (const hex of hexes) {
      const own = oklabOf(linearOfHex(hex))
      const { l, a, b } = oklab(hex)!
      const other = new Color(hex).to('oklab').coords
      own.forEach((v, i) => {
        expect(v).toBeCloseTo([l, a, b][i]!, 6)
        expect(v).toBeCloseTo(other[i]!, 6)
      })
      linearOfOklab(own).forEach((v, i) => {
        expect(v).toBeCloseTo(linearOfHex(hex)[i]!, 6)
      })
    }
  })

  it('mixes the colours of a gradient as both libraries do', () => {
    const linear = converter('lrgb')
    for (const [from, to] of [
      ['#ff0000', '#0000ff'],
      ['#ff8000', '#0080ff'],
      ['#123456', '#fedcba'],
    ] as const) {
      const table = gradientTable([
        { at: 0, colour: linearOfHex(from) },
        { at: 1, colour: linearOfHex(to) },
      ])
      const culori = interpolate([from, to], 'oklab')
      const range = new Color(from).range(to, { space: 'oklab', outputSpace: 'srgb-linear' })
      for (let i = 0; i <= GRADIENT_STEPS; i++) {
        const t = i / GRADIENT_STEPS
        const { r, g, b } = linear(culori(t))
        const coords = range(t).coords as number[]
        const cut = (v: number) => Math.min(1, Math.max(0, v))
        for (let c = 0; c < 3; c++) {
          expect(table[i * 3 + c]).toBeCloseTo(cut([r, g, b][c]!), 5)
          expect(table[i * 3 + c]).toBeCloseTo(cut(coords[c]!), 5)
        }
      }
    }
  })
})

describe('a gradient', () => {
  const red: LinearRgb = [1, 0, 0]
  const blue: LinearRgb = [0, 0, 1]
  const at = (table: Float32Array, place: number) =>
    [...table.subarray(Math.round(place * GRADIENT_STEPS) * 3)]
      .slice(0, 3)
      .map(v => Math.round(v * 1e6) / 1e6)

  it('holds its first and last colour outside its stops', () => {
    const table = gradientTable([
      { at: 0.25, colour: red },
      { at: 0.75, colour: blue },
    ])
    expect(at(table, 0)).toEqual([1, 0, 0])
    expect(at(table, 0.25)).toEqual([1, 0, 0])
    expect(at(table, 0.75)).toEqual([0, 0, 1])
    expect(at(table, 1)).toEqual([0, 0, 1])
  })

  it('takes stops in any order, and makes an edge of two at one place', () => {
    const table = gradientTable([
      { at: 0.5, colour: red },
      { at: 0, colour: red },
      { at: 0.5, colour: blue },
      { at: 1, colour: blue },
    ])
    expect(at(table, 0.5 - 1 / GRADIENT_STEPS)).toEqual([1, 0, 0])
    expect(at(table, 0.5)).toEqual([0, 0, 1])
  })
})
