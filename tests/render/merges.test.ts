// Tracks over each other, and the live layer over them all.

import { luminanceOf } from '@glowchart/shared/light/lightness.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive, type Live } from '@glowchart/shared/render/live.ts'
import { describe, expect, it } from 'vitest'
import { lightOf } from './rendering.ts'
import { compiledSmall, type ShowInput, smallShow } from './small-show.ts'

const solid = (hex: string) => ({ along: 'none', colour: { hex } })
const under = { at: 0, length: 3840, colours: solid('#ff8000') }
const half = { length: 1000 }

/** Light of the first fixture, to six digits. */
const first = (input: ShowInput, at = 0): number[] =>
  [...lightOf(compiledSmall({ fixtures: 1, ...input }), at, at).subarray(0, 3)].map(
    v => Math.round(v * 1e6) / 1e6,
  )
const digits = (...values: number[]) => values.map(v => Math.round(v * 1e6) / 1e6)
const ORANGE = 0.21586050011389926

describe('a track merges over the ones above it', () => {
  const over = (merge: string, cue: Record<string, unknown>, at = 0) =>
    first(
      {
        tracks: [{}, { merge }],
        cues: { a: under, b: { track: 't1', at: 0, length: 3840, ...cue } },
      },
      at,
    )

  it('cover: takes their place, and by its fades', () => {
    expect(over('cover', { colours: solid('#0000ff') })).toEqual([0, 0, 1])
    expect(over('cover', { colours: solid('#0000ff'), fadeIn: half }, 250)).toEqual(
      digits(0.75, ORANGE * 0.75, luminanceOf(0.25)),
    )
    expect(over('cover', { level: 0 })).toEqual([0, 0, 0])
  })

  it('highest: the greater of each channel', () => {
    expect(over('highest', { colours: solid('#00ff00'), level: 0.5 })).toEqual(
      digits(1, Math.max(ORANGE, luminanceOf(0.5)), 0),
    )
  })

  it('add: the sum, cut at full', () => {
    expect(over('add', { colours: solid('#ffff80') })).toEqual(digits(1, 1, ORANGE))
  })

  it('mask: lets through its own light, and by its fades', () => {
    expect(over('mask', { level: 0.5 })).toEqual(digits(luminanceOf(0.5), ORANGE * luminanceOf(0.5), 0))
    expect(over('mask', { level: 0, fadeIn: half }, 250)).toEqual(digits(0.75, ORANGE * 0.75, 0))
  })

  it('does nothing where it has no cue', () => {
    for (const merge of ['cover', 'highest', 'add', 'mask']) {
      expect(first({ tracks: [{}, { merge }], cues: { a: under } })).toEqual(digits(1, ORANGE, 0))
    }
  })

  it('or is left out while it is muted', () => {
    const cues = { a: under, b: { track: 't1', at: 0, length: 3840, level: 0 } }
    expect(first({ tracks: [{}, { merge: 'cover', muted: true }], cues })).toEqual(digits(1, ORANGE, 0))
  })

  it('in the order of the tracks, over parts that share fixtures', () => {
    const song = compiledSmall({
      fixtures: 3,
      parts: { odd: { fixtures: [1] } },
      tracks: [{}, { part: 'odd', merge: 'cover' }],
      cues: { a: under, b: { track: 't1', at: 0, length: 3840, colours: solid('#0000ff') } },
    })
    expect([...lightOf(song, 0, 0)].map(v => Math.round(v * 100))).toEqual([
      100, 22, 0, 0, 0, 100, 100, 22, 0,
    ])
  })
})

describe('colour and level', () => {
  it('a gradient over time runs from the origin for its length, else for the length of the cue', () => {
    const stops = [
      { at: 0, colour: { hex: '#000000' } },
      { at: 1, colour: { hex: '#ffffff' } },
    ]
    const colours = { along: 'time', stops }
    // Half-way in OKLab from black to white is lightness ½: light ⅛.
    expect(first({ cues: { c: { at: 0, length: 3840, colours } } }, 1920)).toEqual([0.125, 0.125, 0.125])
    expect(
      first({ cues: { c: { at: 0, length: 3840, colours: { ...colours, length: 960 } } } }, 480),
    ).toEqual([0.125, 0.125, 0.125])
    expect(first({ cues: { c: { at: 0, length: 3840, origin: 960, colours } } }, 960)).toEqual([0, 0, 0])
  })

  it('a gradient over the part goes by the order of the fixtures, one with the motion by its raw value', () => {
    const stops = [
      { at: 0, colour: { hex: '#ff0000' } },
      { at: 1, colour: { hex: '#0000ff' } },
    ]
    const part = compiledSmall({
      fixtures: 3,
      cues: { c: { at: 0, length: 3840, colours: { along: 'part', stops } } },
    })
    const light = lightOf(part, 0, 0)
    expect([light[0], light[2], light[6], light[8]]).toEqual([1, 0, 0, 1])
    const motion = { kind: 'chase', duty: 0.25, shape: 0, floor: 1 }
    const chased = compiledSmall({
      fixtures: 4,
      cues: { c: { at: 0, length: 3840, motion, colours: { along: 'motion', stops } } },
    })
    expect([...lightOf(chased, 0, 0)]).toEqual([0, 0, 1, 1, 0, 0, 1, 0, 0, 1, 0, 0])
  })

  it('points of a level are joined evenly in L*, hold outside, and step where two stand together', () => {
    const level = [
      { at: 1000, level: 0.2 },
      { at: 2000, level: 0.8 },
      { at: 3000, level: 0.8 },
      { at: 3000, level: 0.1 },
    ]
    const cues = { c: { at: 0, length: 3840, level } }
    for (const [at, expected] of [
      [0, 0.2],
      [1500, 0.5],
      [2500, 0.8],
      [3000, 0.1],
      [3500, 0.1],
    ] as const) {
      expect(first({ cues }, at)[0]).toBeCloseTo(luminanceOf(expected), 5)
    }
  })

  it('a cue linked to a look does what the look says of its part; a copy replaces swatches and trims', () => {
    const sections = {
      b: { name: 'B', bars: 4, cues: {}, sameAs: { section: 'a', swatches: { rust: 'moss' }, trim: 0.5 } },
    }
    const looks = { glow: { part: { level: 1, colours: { along: 'none', colour: { swatch: 'rust' } } } } }
    const input = { looks, sections, cues: { c: { at: 0, length: 3840, look: 'glow' } } }
    const rust = first({ cues: { c: { at: 0, length: 3840, colours: solid('#c04010') } } })
    const moss = first({ cues: { c: { at: 0, length: 3840, level: 0.5, colours: solid('#40a030') } } })
    expect(first(input, 10)).toEqual(rust)
    expect(first(input, 4 * 3840 + 10)).toEqual(moss)
  })
})

describe('the live layer', () => {
  const lit = (live: Partial<Live>, trim = 1): number[] => {
    const { rig, show } = smallShow({
      fixtures: 2,
      parts: { second: { fixtures: [1] } },
      cues: { a: { ...under, level: 1 } },
    })
    const kit = show.kits.kit!
    const guests = { ...kit.guests, f0: { ...kit.guests.f0!, trim } }
    const song = compileSong(rig, { ...show, kits: { kit: { ...kit, guests } } }, 'kit', 'song')
    const light = lightOf(song, 0, 48)
    applyLimits(song, { ...freshLive(), ...live }, light)
    return [...light].map(v => Math.round(v * 1e6) / 1e6)
  }
  const orange = (factor: number) => digits(factor, ORANGE * factor, 0)

  it('leaves the light alone when it is fresh', () => {
    expect(lit({})).toEqual([...orange(1), ...orange(1)])
  })

  it('masters act in L* and keep the hue, each on its part', () => {
    const y = luminanceOf(0.5)
    expect(lit({ grand: 0.5 })).toEqual([...orange(y), ...orange(y)])
    expect(lit({ parts: { second: 0.5 } })).toEqual([...orange(1), ...orange(y)])
    expect(lit({ parts: { part: 0.5, second: 0.5 } })).toEqual([...orange(y), ...orange(y * y)])
  })

  it('a bump is white at its level, or the song where that is brighter, under the grand master', () => {
    const y = luminanceOf(0.6)
    expect(lit({ bumps: { second: 0.6 } })).toEqual([...orange(1), ...digits(1, y, y)])
    expect(lit({ bumps: { second: 1 }, parts: { second: 0 } }).slice(3)).toEqual([1, 1, 1])
    expect(lit({ bumps: { second: 1 }, grand: 0 })).toEqual([0, 0, 0, 0, 0, 0])
  })

  it("a fixture's trim dims it, bumped or not", () => {
    const y = luminanceOf(0.5)
    expect(lit({}, 0.5).slice(0, 3)).toEqual(orange(y))
    expect(lit({ bumps: { part: 1 } }, 0.5).slice(0, 3)).toEqual(digits(y, y, y))
  })

  it('blackout is dark, whatever else is held', () => {
    expect(lit({ blackout: true, bumps: { part: 1 } })).toEqual([0, 0, 0, 0, 0, 0])
  })
})
