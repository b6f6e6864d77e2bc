// The flash meter against the published definitions. All of them are adapted: none of these standards covers stage
// lamps. Flash, general flash, red flash and relative luminance: W3C WCAG 2.2, "general flash and red flash thresholds".
// The second, the pairs and the 5 s: ITU-R BT.1702-3. Four a second: UK HSE advice, as the Epilepsy Society gives it.
// Expected figures are computed from those definitions by hand.

import { luminance, WHITE_U, WHITE_V } from '@glowchart/shared/advice/flash/chroma.ts'
import {
  divisions,
  fastestBpm,
  fastestDivision,
  flashesPerSecond,
  meets,
  screenLimit,
  venueLimit,
} from '@glowchart/shared/advice/flash/limits.ts'
import { type FlashKind, FlashMeter } from '@glowchart/shared/advice/flash/meter.ts'
import { uOf, vOf } from '@glowchart/shared/light/chromaticity.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

const RATE = 40
type Rgb = readonly [number, number, number]
const grey = (v: number): Rgb => [v, v, v]
const black = grey(0)
const white = grey(1)
const red: Rgb = [1, 0, 0]
const blue: Rgb = [0, 0, 1]

/** Measures one signal given frame by frame. */
function measure(frames: readonly Rgb[], rate = RATE): Record<FlashKind, ReturnType<FlashMeter['reading']>> {
  const meter = new FlashMeter(1, rate)
  for (const rgb of frames) meter.feed(Float32Array.from(rgb))
  return {
    general: meter.reading(0, 'general'),
    red: meter.reading(0, 'red'),
    channel: meter.reading(0, 'channel'),
  }
}

/** Two states in turn, half the time each, edges on the nearest frame. */
const alternate = (a: Rgb, b: Rgb, hz: number, seconds = 6, rate = RATE): Rgb[] =>
  Array.from({ length: seconds * rate }, (_, n) => (Math.floor((2 * hz * n) / rate + 1e-9) % 2 === 0 ? a : b))

describe('white light on and off, half the time each, at 40 frames a second', () => {
  it.each([
    // Hz, transitions in the worst second, 3/s strictly, 3/s by pairs, 4/s strictly
    [1, 2, true, true, true],
    [2, 4, true, true, true],
    [3, 6, true, true, true],
    [3.5, 7, false, true, true],
    [4, 8, false, false, true],
    [5, 10, false, false, false],
    [10, 20, false, false, false],
    [20, 40, false, false, false],
  ])('at %s Hz makes %i transitions in its worst second', (hz, transitions, strict, lenient, venue) => {
    const { general, channel } = measure(alternate(black, white, hz))
    expect(general.transitions).toBe(transitions)
    expect(channel.transitions).toBe(transitions)
    expect(meets(screenLimit, general.transitions)).toEqual({ strict, lenient })
    expect(meets(venueLimit, general.transitions).strict).toBe(venue)
    expect(general.fast.length).toBe(strict ? 0 : 1)
  })

  it('at 20 Hz changes in every frame: nothing is faster at this rate', () => {
    const frames = alternate(black, white, 20)
    expect(measure(frames).general.transitions).toBe(RATE)
    expect(frames.every((f, n) => n === 0 || f !== frames[n - 1])).toBe(true)
  })

  it.each([25, 30, 40, 44])(
    'makes no more than two transitions a flash at %i frames a second, to within a frame',
    rate => {
      for (const hz of [0.5, 1, 1.7, 2, 2.9, 3]) {
        expect(measure(alternate(black, white, hz, 20, rate), rate).general.transitions).toBeLessThanOrEqual(
          2 * Math.ceil(hz),
        )
      }
    },
  )
})

describe('a general flash (WCAG 2.2: 10 % of full luminance, the darker state below 80 %)', () => {
  it.each([
    ['0 and 0.09', 0, 0.09, 0],
    ['0 and 0.10', 0, 0.1, 20],
    ['0.85 and 1', 0.85, 1, 0],
    ['0.80 and 1', 0.8, 1, 0],
    ['0.79 and 1', 0.79, 1, 20],
  ])('between %s at 10 Hz', (_, low, high, transitions) => {
    expect(measure(alternate(grey(low), grey(high), 10)).general.transitions).toBe(transitions)
  })

  it('is one transition for a slow ramp, however many frames it takes', () => {
    const ramp = Array.from({ length: 41 }, (_, i) => grey(i / 40))
    expect(measure([...ramp, ...[...ramp].reverse(), ...ramp]).general.transitions).toBeLessThanOrEqual(2)
    const slow = Array.from({ length: 401 }, (_, i) => grey(i / 400))
    expect(measure(slow).general).toMatchObject({ transitions: 1, fast: [] })
  })

  it('counts the fall that begins above 80 % and ends below it', () => {
    const fall = Array.from({ length: 11 }, (_, i) => grey(1 - 0.03 * i))
    expect(measure(fall).general.transitions).toBe(1)
    expect(measure(fall.slice(0, 6)).general.transitions).toBe(0)
  })

  it('is not made by ripple on a ramp', () => {
    const rippled = Array.from({ length: 200 }, (_, i) => grey(i / 250 + (i % 2) * 0.05))
    expect(measure(rippled).general.transitions).toBe(1)
  })
})

describe('colours (WCAG 2.2: relative luminance; R/(R+G+B) of 0.8 or more and u′v′ more than 0.2 apart)', () => {
  const distance = (a: Rgb, b: Rgb) => {
    const uv = (c: Rgb) => (c === black ? ([WHITE_U, WHITE_V] as const) : ([uOf(...c), vOf(...c)] as const))
    return Math.hypot(uv(a)[0] - uv(b)[0], uv(a)[1] - uv(b)[1])
  }
  const orange: Rgb = [1, 0.2, 0]
  const dimRed: Rgb = [0.4, 0, 0]

  it.each([
    // name, from, to, |ΔY|, Δu′v′, general, red, channel
    ['red and blue', red, blue, 0.1404, 0.4572, 20, 20, 0],
    ['red and orange', red, orange, 0.143, 0.1262, 20, 0, 0],
    ['blue and black', blue, black, 0.0722, undefined, 0, 0, 20],
    ['red at 40 % and black', dimRed, black, 0.085, 0.2587, 0, 20, 20],
    ['red and black', red, black, 0.2126, 0.2587, 20, 20, 20],
  ] as const)('%s at 10 Hz', (_, a, b, dY, dUv, general, redTurns, channel) => {
    expect(Math.abs(luminance(...a) - luminance(...b))).toBeCloseTo(dY, 4)
    if (dUv !== undefined) expect(distance(a, b)).toBeCloseTo(dUv, 4)
    const got = measure(alternate(a, b, 10))
    expect([got.general.transitions, got.red.transitions, got.channel.transitions]).toEqual([
      general,
      redTurns,
      channel,
    ])
  })

  it.each([
    ['0.82 of red, and blue', [0.82, 0.09, 0.09], blue, 20],
    ['0.78 of red, and blue', [0.78, 0.11, 0.11], blue, 0],
    ['red, and an orange 0.197 from it', red, [1, 0.48, 0], 0],
    ['red, and an orange 0.203 from it', red, [1, 0.52, 0], 20],
  ] as [string, Rgb, Rgb, number][])('%s at 10 Hz: by share and distance', (_, a, b, transitions) => {
    expect(measure(alternate(a, b, 10)).red.transitions).toBe(transitions)
  })

  it('measures from the colour furthest from red, not from the one next to it', () => {
    const nearRed: Rgb = [1, 0.26, 0]
    expect(measure([nearRed, nearRed, white, nearRed, red]).red.transitions).toBe(1)
    expect(measure([nearRed, nearRed, red]).red.transitions).toBe(0)
  })

  it('takes black for the white point: u′ 0.1978, v′ 0.4683', () => {
    expect([uOf(1, 1, 1), vOf(1, 1, 1)]).toEqual([expect.closeTo(0.1978, 4), expect.closeTo(0.4683, 4)])
    expect([WHITE_U, WHITE_V]).toEqual([expect.closeTo(uOf(1, 1, 1), 4), expect.closeTo(vOf(1, 1, 1), 4)])
  })

  it('counts a slow change from white to red and back as one transition each way', () => {
    const mix = Array.from({ length: 60 }, (_, i): Rgb => [1, 1 - i / 59, 1 - i / 59])
    const there = measure(mix)
    const back = measure([...mix, ...[...mix].reverse()])
    expect([there.red.transitions, back.red.transitions]).toEqual([1, 2])
  })

  it('counts a change over several frames, each smaller than the threshold, at each end', () => {
    const cycle: Rgb[] = [red, [1, 0.3, 0.3], white, [1, 0.3, 0.3]]
    expect(measure(Array.from({ length: 240 }, (_, n) => cycle[n % 4]!)).red.transitions).toBe(20)
  })
})

describe('the second that is counted', () => {
  it('is half-open: of transitions exactly a second apart only one is in it', () => {
    const flash = (...at: number[]) =>
      Array.from({ length: 121 }, (_, n) => grey(at.filter(a => a <= n).length % 2))
    expect(measure(flash(1, 41)).general.transitions).toBe(1)
    expect(measure(flash(1, 40)).general.transitions).toBe(2)
  })

  it('is found where it is worst', () => {
    const frames = [
      ...alternate(black, white, 1, 5),
      ...alternate(black, white, 5, 1),
      ...alternate(black, white, 1, 5),
    ]
    const { transitions, worst, fast } = measure(frames).general
    expect(transitions).toBeGreaterThanOrEqual(10)
    expect(worst).toBeGreaterThanOrEqual(4 * RATE)
    expect(worst).toBeLessThan(6 * RATE)
    expect(fast).toHaveLength(1)
  })

  it('gives one stretch for one strobe, and two when seconds lie between', () => {
    const strobe = alternate(black, white, 8, 3)
    const dark = Array<Rgb>(3 * RATE).fill(black)
    expect(measure([...strobe, ...dark, ...strobe]).general.fast).toEqual([
      { from: 3, to: expect.any(Number), transitions: 16 },
      { from: 6 * RATE + 3, to: expect.any(Number), transitions: 16 },
    ])
  })

  it('finds no fewer transitions in a signal that any other second of it has', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 50, maxLength: 200 }), lit => {
        const edges = lit.map((on, n) => n > 0 && on !== lit[n - 1])
        const worst = Math.max(...edges.map((_, n) => edges.slice(n, n + RATE).filter(Boolean).length))
        expect(measure(lit.map(on => grey(on ? 1 : 0))).general.transitions).toBe(worst)
      }),
    )
  })
})

describe('flashing that goes on (ITU-R BT.1702-3: more than 5 s is a risk; 360 ms apart, flashes are separate)', () => {
  it.each([
    [3, 1],
    [2.86, 1],
    [2.5, 0],
    [2, 0],
  ])('at %s Hz for 8 s is %i stretch', (hz, stretches) => {
    expect(measure(alternate(black, white, hz, 8)).general.long).toHaveLength(stretches)
  })

  it('is no stretch at 5 s, and one beyond', () => {
    expect(measure(alternate(black, white, 4, 5)).general.long).toEqual([])
    const { long, longest } = measure(alternate(black, white, 4, 7)).general
    expect(long).toEqual([{ from: 5, to: 275, transitions: 8 }])
    expect(longest).toBe(270)
  })

  it('begins anew after a pause', () => {
    const frames = [
      ...alternate(black, white, 4, 4),
      ...Array<Rgb>(400).fill(white),
      ...alternate(black, white, 4, 4),
    ]
    expect(measure(frames).general.long).toEqual([])
  })
})

describe('strobes by note value (computed: beats a second times flashes a beat)', () => {
  it.each([
    // note value, flashes a beat, fastest BPM at 3 a second, at 4 a second, flashes a second at 120 BPM
    ['1/4', 1, 180, 240, 2],
    ['1/8', 2, 90, 120, 4],
    ['1/8 triplet', 3, 60, 80, 6],
    ['1/16', 4, 45, 60, 8],
    ['1/32', 8, 22.5, 30, 16],
  ])('%s', (name, perBeat, at3, at4, at120) => {
    expect(divisions.find(d => d.name === name)!.flashesPerBeat).toBe(perBeat)
    expect(fastestBpm(screenLimit, perBeat)).toBe(at3)
    expect(fastestBpm(venueLimit, perBeat)).toBe(at4)
    expect(flashesPerSecond(120, perBeat)).toBe(at120)
    const worst = measure(alternate(black, white, flashesPerSecond(120, perBeat))).general.transitions
    expect(meets(screenLimit, worst).strict).toBe(at3 >= 120)
    expect(meets(venueLimit, worst).strict).toBe(at4 >= 120)
  })

  it('names the fastest note value that is slow enough', () => {
    expect([40, 45, 60, 90, 91, 180, 181].map(fastestDivision)).toEqual([
      '1/16',
      '1/16',
      '1/8 triplet',
      '1/8',
      '1/4',
      '1/4',
      null,
    ])
  })
})
