// Compiling: what is refused, what is joined, looks that stand, splits, and memory that a frame takes.

import { execFileSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { CodedError } from '@glowchart/shared/errors.ts'
import { compileLook, compileSong } from '@glowchart/shared/render/compile.ts'
import { frameFrom, frameSpan } from '@glowchart/shared/render/frames.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import { splitCue } from '@glowchart/shared/show/split.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'
import { lightOf } from './rendering.ts'
import { compiledSmall, smallShow } from './small-show.ts'

const codeOf = (act: () => unknown): string => {
  try {
    act()
  } catch (error) {
    if (error instanceof CodedError) return error.code
    throw error
  }
  return 'none'
}

const cueOf = (input: Parameters<typeof smallShow>[0]): Cue =>
  smallShow(input).show.songs.song!.sections.a!.cues.c!

describe('compiling a song', () => {
  const { rig, show } = smallShow({
    cues: { c: { at: 0, length: 960, colours: { along: 'none', colour: { swatch: 'rust' } } } },
  })

  it('names a kit, a song, a look or a swatch that is not there', () => {
    expect(codeOf(() => compileSong(rig, show, 'attic', 'song'))).toBe('kit.unknown')
    expect(codeOf(() => compileSong(rig, show, 'kit', 'hum'))).toBe('song.unknown')
    expect(codeOf(() => compileLook(rig, show, 'kit', 'haze'))).toBe('document.look')
    expect(codeOf(() => compileSong(rig, { ...show, swatches: {} }, 'kit', 'song'))).toBe('document.swatch')
  })

  it('makes plain data that goes to another thread whole', () => {
    const song = compiledSmall({ cues: { c: { at: 0, length: 960, motion: { kind: 'ring' } } } })
    expect(structuredClone(song)).toEqual(song)
  })

  it('finds the cues of a frame among thousands, a long one over many short ones included', () => {
    const short = Array.from({ length: 2000 }, (_, i) => [`s${i}`, { at: i * 7, length: 3 }])
    const song = compiledSmall({
      fixtures: 1,
      cues: {
        long: { at: 0, length: 15_000, colours: { along: 'none', colour: { hex: '#ff0000' } } },
        ...Object.fromEntries(short),
      },
    })
    expect([...lightOf(song, 1400, 1400)]).toEqual([1, 1, 1])
    expect([...lightOf(song, 1405, 1405)]).toEqual([1, 0, 0])
    expect([...lightOf(song, 14_990, 14_990)]).toEqual([1, 0, 0])
    expect([...lightOf(song, 15_000, 15_048)]).toEqual([0, 0, 0])
  })
})

describe('a look that stands', () => {
  it('lights its parts from tick 0 on without end, at 120 BPM', () => {
    const looks = {
      glow: { part: { level: 1, motion: { kind: 'chase', rate: { ticks: 960 }, duty: 0.5, shape: 0 } } },
    }
    const { rig, show } = smallShow({ fixtures: 2, looks })
    const song = compileLook(rig, show, 'kit', 'glow')
    expect([...lightOf(song, 0, 0)]).toEqual([1, 1, 1, 0, 0, 0])
    expect([...lightOf(song, 960 * 100_000 + 480, 960 * 100_000 + 480)]).toEqual([0, 0, 0, 1, 1, 1])
    expect(frameSpan(song, 40, 40).from).toBe(1920)
  })
})

it('a look lies over itself in the show’s order of parts, however its parts were written down', () => {
  const parts = { low: { fixtures: [0] }, high: { fixtures: [0] } }
  const looks = {
    glow: { low: { level: 1 }, high: { level: 0.5 } },
    turned: { high: { level: 0.5 }, low: { level: 1 } },
  }
  const { rig, show } = smallShow({ fixtures: 1, parts, looks })
  const lit = (look: string) => [...lightOf(compileLook(rig, show, 'kit', look), 0, 48)]
  expect(lit('turned')).toEqual(lit('glow'))
  expect(lit('glow')[0]).toBeLessThan(0.5)
})

describe('splitting a cue', () => {
  const cue = cueOf({
    cues: {
      c: {
        at: 100,
        length: 1000,
        origin: 5,
        level: [{ at: 400, level: 0.5 }],
        fadeIn: { length: 300 },
        fadeOut: { length: 900 },
        colours: {
          along: 'time',
          stops: [
            { at: 0, colour: { hex: '#000000' } },
            { at: 1, colour: { hex: '#ffffff' } },
          ],
        },
      },
    },
  })

  it('keeps origin, points, gradient and fades where they were', () => {
    const [first, second] = splitCue(cue, 200)
    expect(first).toMatchObject({
      at: 100,
      length: 200,
      origin: 5,
      fadeIn: { length: 300, cut: 0 },
      fadeOut: { length: 900, cut: 800 },
    })
    expect(second).toMatchObject({
      at: 300,
      length: 800,
      origin: -195,
      fadeIn: { length: 300, cut: 200 },
      fadeOut: { length: 900, cut: 0 },
      light: { level: [{ at: 200, level: 0.5 }], colours: { length: 1000 } },
    })
    const [early, late] = splitCue(
      cueOf({ cues: { c: { at: 0, length: 1000, fadeIn: { length: 300 }, fadeOut: { length: 300 } } } }),
      500,
    )
    expect(early).not.toHaveProperty('fadeOut')
    expect(late).not.toHaveProperty('fadeIn')
  })

  it('is refused outside the cue or between two ticks', () => {
    for (const offset of [0, -1, 1000, 1001, 0.5, Number.NaN]) {
      expect(codeOf(() => splitCue(cue, offset))).toBe('edit.invalid')
    }
  })

  it('makes one cue of its halves again, unless one of them is changed', () => {
    const { rig, show } = smallShow({ cues: { c: { at: 0, length: 1000, motion: { kind: 'swell' } } } })
    const [first, second] = splitCue(show.songs.song!.sections.a!.cues.c!, 400)
    const compiled = (d: Cue) => {
      const song = show.songs.song!
      const section = { ...song.sections.a!, cues: { c: first, d } }
      return compileSong(
        rig,
        { ...show, songs: { song: { ...song, sections: { a: section } } } },
        'kit',
        'song',
      )
    }
    expect(compiled(second).tracks[0]!.cues).toHaveLength(1)
    expect(compiled({ ...second, name: 'Lift' }).tracks[0]!.cues).toHaveLength(1)
    expect(compiled({ ...second, at: ticks(401) }).tracks[0]!.cues).toHaveLength(2)
    expect(compiled({ ...second, origin: ticks(0) }).tracks[0]!.cues).toHaveLength(2)
    expect(
      compiled({ ...second, fadeIn: { length: ticks(10), curve: 'even', cut: ticks(0) } }).tracks[0]!.cues,
    ).toHaveLength(2)
  })
})

describe('frames of a song', () => {
  it('begin at or after a bar: the first one in it', () => {
    const song = compiledSmall({ bpm: 120 })
    expect(frameFrom(song, ticks(0), 40)).toBe(0)
    expect(frameFrom(song, ticks(3840), 40)).toBe(80)
    expect(frameFrom(song, ticks(3841), 40)).toBe(81)
    const odd = compiledSmall({ bpm: 137 })
    for (let bar = 0; bar < 4; bar++) {
      const n = frameFrom(odd, ticks(bar * 3840), 40)
      expect(frameSpan(odd, n, 40).from).toBeGreaterThanOrEqual(bar * 3840 - 1e-3)
      expect(frameSpan(odd, Math.max(0, n - 1), 40).from).toBeLessThanOrEqual(bar * 3840)
    }
  })
})

describe('the hot path', () => {
  const perFrame = (fixtures: number, frames: number): number => {
    const script = fileURLToPath(new URL('../support/render-allocation.ts', import.meta.url))
    const flags = ['--expose-gc', '--max-semi-space-size=128', '--import', 'tsx']
    return Number(
      execFileSync(process.execPath, [...flags, script, `${fixtures}`, `${frames}`], { encoding: 'utf8' }),
    )
  }

  it('allocates nothing that grows with the fixtures: numbers passed between functions at most', () => {
    // V8 makes an object of 16 bytes of every fraction that crosses a call it has not inlined: the two positions and
    // their seconds are 64 of them. Four layers of all motions run; one array of their light would be 512 bytes and more.
    expect(perFrame(16, 10_000)).toBeLessThan(192)
    expect(perFrame(400, 2000)).toBeLessThan(384)
  }, 60_000)
})
