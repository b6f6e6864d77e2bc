// Light in ink: level is thickness, and its grey is the same whatever the hue, so that a grey printer tells it all.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { strandsOf } from '@glowchart/web/chart/rows.ts'
import { drawInk, inkOf, thicknessOf } from '@glowchart/web/paper/ink/draw.ts'
import { inkRowsOf } from '@glowchart/web/paper/sheets/ink-rows.ts'
import { describe, expect, it } from 'vitest'

/** Relative luminance by WCAG 2.2 (its definition), 0…1. */
function luminance(rgb: ArrayLike<number>): number {
  const linear = (value: number): number => {
    const v = value / 255
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
  }
  return 0.2126 * linear(rgb[0]!) + 0.7152 * linear(rgb[1]!) + 0.0722 * linear(rgb[2]!)
}
const ink = new Uint8Array(3)

describe('ink', () => {
  it.each([
    ['red', 1, 0, 0],
    ['green', 0, 1, 0],
    ['blue', 0, 0, 1],
    ['amber', 1, 0.4, 0.05],
    ['white', 1, 1, 1],
    ['dim violet', 0.02, 0.001, 0.05],
  ] as const)(
    'for %s stands 3 to 1 against white (WCAG 2.2 SC 1.4.11), and is as grey as any other',
    (_, r, g, b) => {
      inkOf(r, g, b, ink)
      expect(1.05 / (luminance(ink) + 0.05)).toBeGreaterThan(3)
      const grey = 0.2126 * ink[0]! + 0.7152 * ink[1]! + 0.0722 * ink[2]!
      expect(Math.abs(grey - 0.4 * 255)).toBeLessThan(2)
    },
  )

  it('grows thicker with the level, from a hair to nearly all of its strand', () => {
    const thick = [0.002, 0.01, 0.1, 0.3, 0.6, 1].map(level => thicknessOf(level, 11))
    for (let i = 1; i < thick.length; i++) expect(thick[i]!).toBeGreaterThan(thick[i - 1]!)
    expect(thick[0]!).toBeGreaterThan(0)
    expect(thick.at(-1)!).toBeCloseTo(10.4, 9)
  })
})

describe('a line in ink', () => {
  it('has ink where lights are lit, and bare paper where they are dark', () => {
    const { rig, show } = demoBundle()
    const song = compileSong(rig, show, 'full', 'porchlight')
    const { rows, height } = inkRowsOf(strandsOf(show, song.stage, show.songs.porchlight))
    const bar = 4 * 960
    const shape = { barWidth: 30, rows, height, pad: 0, bloom: 0, scale: 2 }
    const inked = (edges: number[]): number => {
      const { data } = drawInk(song, 40, { ...shape, edges })
      let sum = 0
      for (let i = 3; i < data.length; i += 4) sum += data[i]! / 255
      return sum
    }
    // Two bars of a chorus in which every part plays, and a bar well after the song's end.
    expect(inked([24 * bar, 25 * bar, 26 * bar])).toBeGreaterThan(1000)
    const end = song.timeline.length
    expect(inked([end + 4 * bar, end + 5 * bar])).toBe(0)
  })
})
