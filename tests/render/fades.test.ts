// Fades, hits and crossfades: monotone at 8 bit, never lost, nothing jumps.

import { luminanceOf } from '@glowchart/shared/light/lightness.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { byteOf, framesOf, lightOf, redOf } from './rendering.ts'
import { compiledSmall } from './small-show.ts'

const BAR = 3840
const rate = fc.integer({ min: 1, max: 44 })
const curve = fc.constantFrom('even', 'soft', 'early', 'late')

describe('a hit', () => {
  it('of one tick shows in one frame at any rate, in two where it lies on their edge', () => {
    fc.assert(
      fc.property(
        rate,
        fc.integer({ min: 0, max: 4 * BAR - 1 }),
        fc.double({ min: 40, max: 300, noNaN: true }),
        (fps, at, bpm) => {
          const song = compiledSmall({ fixtures: 1, bpm, cues: { hit: { at, length: 1 } } })
          const levels = redOf(framesOf(song, fps))
          const first = levels.indexOf(255)
          const edge = frameSpan(song, first, fps).to
          const lit = edge > at && edge < at + 1 ? [first, first + 1] : [first]
          expect(levels.flatMap((v, n) => (v > 0 ? [n] : []))).toEqual(lit)
        },
      ),
    )
  })

  it('shorter than a frame reaches its full height in one, whatever its fades, at any rate', () => {
    fc.assert(
      fc.property(
        rate,
        fc.integer({ min: 0, max: 3 * BAR }),
        fc.integer({ min: 1, max: 80 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        curve,
        curve,
        (fps, at, length, share, curveIn, curveOut) => {
          const rise = Math.round(length * share)
          const fadeIn = { length: rise, curve: curveIn }
          const fadeOut = { length: length - rise, curve: curveOut }
          const song = compiledSmall({ fixtures: 1, cues: { hit: { at, length, fadeIn, fadeOut } } })
          expect(Math.max(...redOf(framesOf(song, fps)))).toBe(255)
        },
      ),
    )
  })

  it('is seen even where a fade in and a fade out overlap', () => {
    const fades = { fadeIn: { length: 40 }, fadeOut: { length: 40 } }
    for (let at = 0; at < 100; at++) {
      const song = compiledSmall({ fixtures: 1, cues: { hit: { at: 960 + at, length: 40, ...fades } } })
      // t/40 · (1 − t/40) has its greatest value ¼ in the middle.
      expect(Math.max(...redOf(framesOf(song, 40)))).toBe(byteOf(luminanceOf(0.25)))
    }
  })

  it('beside another one in the same frame is not lost: the brighter of each colour shows', () => {
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        a: { at: 970, length: 5, colours: { along: 'none', colour: { hex: '#ff0000' } } },
        b: { at: 975, length: 500, colours: { along: 'none', colour: { hex: '#0000ff' } } },
      },
    })
    expect([...lightOf(song, 960, 1008)]).toEqual([1, 0, 1])
    expect([...lightOf(song, 1008, 1056)]).toEqual([0, 0, 1])
  })

  it('written as a point of the level between two frames still shows', () => {
    const level = [
      { at: 0, level: 0 },
      { at: 1010, level: 0 },
      { at: 1020, level: 1 },
      { at: 1030, level: 0 },
    ]
    const song = compiledSmall({ fixtures: 1, cues: { c: { at: 0, length: BAR, level } } })
    expect(redOf(framesOf(song, 40)).filter(v => v > 0)).toEqual([255])
  })
})

describe('a fade', () => {
  it('is monotone at 8 bit, in and out, with any curve, length and rate', () => {
    fc.assert(
      fc.property(
        rate,
        fc.integer({ min: 1, max: 2 * BAR }),
        curve,
        fc.integer({ min: 0, max: 500 }),
        (fps, length, c, at) => {
          const fades = { fadeIn: { length, curve: c }, fadeOut: { length, curve: c } }
          const song = compiledSmall({ fixtures: 1, bars: 8, cues: { c: { at, length: 4 * BAR, ...fades } } })
          const levels = redOf(framesOf(song, fps))
          const top = levels.indexOf(255)
          expect(top).toBeGreaterThanOrEqual(0)
          const last = levels.lastIndexOf(255)
          expect(levels.slice(0, top + 1)).toEqual(levels.slice(0, top + 1).sort((a, b) => a - b))
          expect(levels.slice(top, last + 1).every(v => v === 255)).toBe(true)
          expect(levels.slice(last)).toEqual(levels.slice(last).sort((a, b) => b - a))
        },
      ),
    )
  })

  it('that is even passes L* 50 half-way: luminance 0.184 (CIE 15)', () => {
    const song = compiledSmall({ fixtures: 1, cues: { c: { at: 0, length: BAR, fadeIn: { length: 1920 } } } })
    expect(lightOf(song, 960, 960)[0]).toBeCloseTo(0.18418652, 6)
  })

  it('goes by its curve', () => {
    const at = (c: string, share: number) => {
      const fadeIn = { length: 1000, curve: c }
      return lightOf(
        compiledSmall({ fixtures: 1, cues: { c: { at: 0, length: BAR, fadeIn } } }),
        share * 1000,
        share * 1000,
      )[0]
    }
    expect(at('soft', 0.25)).toBeCloseTo(luminanceOf(0.15625), 6)
    expect(at('early', 0.25)).toBeCloseTo(luminanceOf(0.4375), 6)
    expect(at('late', 0.25)).toBeCloseTo(luminanceOf(0.0625), 6)
  })

  it('of which a part lies outside its cue begins and ends in the middle', () => {
    const fadeIn = { length: 1000, cut: 400 }
    const fadeOut = { length: 1000, cut: 300 }
    const song = compiledSmall({ fixtures: 1, cues: { c: { at: 0, length: 3000, fadeIn, fadeOut } } })
    expect(lightOf(song, 0, 0)[0]).toBeCloseTo(luminanceOf(0.4), 6)
    expect(lightOf(song, 2999.999, 2999.999)[0]).toBeCloseTo(luminanceOf(0.3), 4)
  })
})

describe('cues that overlap on one track', () => {
  const red = { along: 'none', colour: { hex: '#ff0000' } }
  const blue = { along: 'none', colour: { hex: '#0000ff' } }

  it('crossfade in linear light over the overlap, and their fades within it are the crossfade', () => {
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        a: { at: 0, length: 2000, colours: red, fadeOut: { length: 800 } },
        b: { at: 1000, length: 2000, colours: blue, fadeIn: { length: 900 } },
      },
    })
    expect([...lightOf(song, 999, 999)]).toEqual([1, 0, 0])
    expect([...lightOf(song, 1250, 1250)]).toEqual([0.75, 0, 0.25])
    expect([...lightOf(song, 1500, 1500)]).toEqual([0.5, 0, 0.5])
    expect([...lightOf(song, 2000, 2000)]).toEqual([0, 0, 1])
  })

  it('crossfade by the curve of the later one', () => {
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        a: { at: 0, length: 2000, colours: red },
        b: { at: 1000, length: 2000, colours: blue, fadeIn: { length: 1000, curve: 'late' } },
      },
    })
    expect([...lightOf(song, 1500, 1500)]).toEqual([0.75, 0, 0.25])
  })

  it('keep the level of a colour they share', () => {
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        a: { at: 0, length: 2000 },
        b: { at: 1000, length: 2840, fadeIn: { length: 500, curve: 'soft' } },
      },
    })
    expect(new Set(redOf(framesOf(song, 40, 0, 70)))).toEqual(new Set([255]))
  })

  it('keep a fade that is longer than the overlap, so that nothing jumps', () => {
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        a: { at: 0, length: 2000, colours: red, fadeOut: { length: 1500 } },
        b: { at: 1500, length: 2000, colours: blue },
      },
    })
    const before = lightOf(song, 1499.99, 1499.99)[0]!
    expect(lightOf(song, 1500, 1500)[0]).toBeCloseTo(before, 4)
    expect(before).toBeCloseTo(luminanceOf(1 / 3), 3)
  })

  it('three deep, keep the fade of one that ends before the crossfade does, so that nothing jumps', () => {
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        a: { at: 0, length: 3840, level: 0 },
        b: { at: 960, length: 960, fadeOut: { length: 240 } },
        c: { at: 1680, length: 5760, level: 0 },
      },
    })
    expect(lightOf(song, 1680, 1680)[0]).toBe(1)
    expect(lightOf(song, 1919, 1919)[0]).toBeLessThan(0.01)
  })

  it('lie over a longer one by their own fades, which comes back after them', () => {
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        a: { at: 0, length: 3800, colours: red },
        b: { at: 1000, length: 1000, colours: blue, fadeOut: { length: 500 } },
      },
    })
    expect([...lightOf(song, 1000, 1000)]).toEqual([0, 0, 1])
    const [r, , b] = lightOf(song, 1750, 1750)
    expect(r).toBeCloseTo(0.5, 6)
    expect(b).toBeCloseTo(luminanceOf(0.5), 6)
    expect([...lightOf(song, 2000, 2000)]).toEqual([1, 0, 0])
  })
})
