// The published definitions of flashing light, row by row, and which test holds Glowchart to each. All are adapted: none
// of these standards covers stage lamps. "meter" is flashMeter.test.ts beside this file, "words" flashWords.test.ts.
//
// | rule, and who sets it                                         | test, or why it does not apply                   |
// |---------------------------------------------------------------|--------------------------------------------------|
// | transition, from peak to valley (WCAG 2.2, note on flash)     | meter: slow ramp, ripple, fall above 80 %        |
// | flash: a pair of opposing transitions (WCAG 2.2)              | meter: on and off at 1 to 20 Hz                  |
// | general flash: 10 % of full, darker below 0.80 (WCAG 2.2)     | meter: a general flash                           |
// | red flash: R/(R+G+B) ≥ 0.8 and Δu′v′ > 0.2 (WCAG 2.2)         | meter: colours                                   |
// | old red flash: (R−G−B) × 320 (WCAG 2.1, dropped)              | here: not used, and it decides otherwise         |
// | three a second in any second (WCAG 2.2, SC 2.3.1)             | meter: Hz table, half-open second                |
// | 0.006 sr of any 10° field (WCAG 2.2, SC 2.3.1)                | here: the angle, the areas; not used to excuse   |
// | three a second whatever the size (WCAG 2.2, SC 2.3.2)         | here: one small light is warned of               |
// | relative luminance, 0.04045 (WCAG 2.2; IEC 61966-2-1)         | here                                             |
// | u′, v′ (CIE 1976) of white                                    | here; meter: black taken for white               |
// | fine balanced pattern below 0.1° is exempt (WCAG 2.2)         | does not apply: here is why                      |
// | 20 cd/m², 160 cd/m², 1/17 (ITU-R BT.1702-3)                   | here: as shares of white                         |
// | any transition of saturated red (ITU-R BT.1702-3)             | meter: red and black, red at 40 %                |
// | 25 % of the screen (ITU-R BT.1702-3)                          | does not apply: a stage has no screen; as SC 2.3.2 |
// | single, double, triple isolated flashes (ITU-R BT.1702-3)     | here                                             |
// | 360 ms at 50 Hz, 334 ms at 60 Hz (ITU-R BT.1702-3)            | here; meter: flashing that goes on               |
// | more than 5 s (ITU-R BT.1702-3)                               | meter: flashing that goes on                     |
// | 4 a second (UK HSE, as the Epilepsy Society gives it)         | meter: Hz table; words: heeds four               |
// | … of all strobes in view together (the same; from memory)     | here: two parts out of step                      |
// | … bursts of 30 s, a warning at the entrance (trade press)     | 5 s is stricter; words: the notice in the remedy |
// | 3 to 30 Hz provoke (Epilepsy Society), 15 to 25 the worst     | here: the wording                                |
// | 1 in 4000, 3 to 5 % of people with epilepsy                   | does not apply: no rule follows from it          |
// | test vectors and note values (computed)                       | meter                                            |

import { adviseShow } from '@glowchart/shared/advice/advise.ts'
import { FIELD_SR, fieldWidth, SMALL_SR, smallArea } from '@glowchart/shared/advice/flash/area.ts'
import { luminance } from '@glowchart/shared/advice/flash/chroma.ts'
import { provocative, SEPARATE_SECONDS } from '@glowchart/shared/advice/flash/limits.ts'
import { FlashMeter } from '@glowchart/shared/advice/flash/meter.ts'
import { uOf, vOf } from '@glowchart/shared/light/chromaticity.ts'
import { decodeSrgb } from '@glowchart/shared/light/srgb.ts'
import { cueSchema } from '@glowchart/shared/show/song.ts'
import { describe, expect, it } from 'vitest'
import { sampleShow } from './sampleShow.ts'

const RATE = 40
const BAR = 3840
type Rgb = readonly [number, number, number]
const black: Rgb = [0, 0, 0]
const white: Rgb = [1, 1, 1]
const red: Rgb = [1, 0, 0]

function measure(frames: readonly Rgb[], rate = RATE) {
  const meter = new FlashMeter(1, rate)
  for (const rgb of frames) meter.feed(Float32Array.from(rgb))
  return { general: meter.reading(0, 'general'), red: meter.reading(0, 'red') }
}
const alternate = (a: Rgb, b: Rgb, hz: number, seconds = 6): Rgb[] =>
  Array.from({ length: seconds * RATE }, (_, n) => (Math.floor((2 * hz * n) / RATE + 1e-9) % 2 === 0 ? a : b))

interface Strobe {
  part: 'high' | 'low'
  hz: number
  duty: number
  /** Ticks from the section's start at which its cycles begin. */
  origin?: number
}

/** Advice on the sample (120 BPM, two parts of eight tubes) with white strobes in bars 2 and 3. */
function adviceOn(...strobes: Strobe[]) {
  const { rig, show } = sampleShow()
  const { verse } = show.songs.song!.sections
  verse!.cues = Object.fromEntries(
    strobes.map(({ part, hz, duty, origin = 0 }) => [
      part,
      cueSchema.parse({
        track: part,
        at: BAR,
        length: 2 * BAR,
        origin,
        light: {
          level: 1,
          colours: { along: 'none', colour: { hex: '#ffffff' } },
          motion: { kind: 'strobe', rate: { hz }, spread: 0, duty },
        },
      }),
    ]),
  )
  return adviseShow(rig, show, 'kit')
}

// W3C WCAG 2.2, relative luminance; IEC 61966-2-1 for the curve (0.03928 stood in WCAG until May 2021).
describe('relative luminance', () => {
  it('weighs linear red, green and blue by 0.2126, 0.7152 and 0.0722, which make 1', () => {
    expect([luminance(1, 0, 0), luminance(0, 1, 0), luminance(0, 0, 1)]).toEqual([0.2126, 0.7152, 0.0722])
    expect(luminance(1, 1, 1)).toBeCloseTo(1, 12)
  })

  it('takes sRGB apart at 0.04045, not at 0.03928', () => {
    expect(decodeSrgb(0.04045)).toBeCloseTo(0.04045 / 12.92, 12)
    expect(decodeSrgb(0.04)).toBeCloseTo(0.04 / 12.92, 12)
    expect(decodeSrgb(0.04)).not.toBeCloseTo(((0.04 + 0.055) / 1.055) ** 2.4, 7)
    expect(decodeSrgb(0.0405)).toBeCloseTo(((0.0405 + 0.055) / 1.055) ** 2.4, 12)
  })
})

// CIE 1976 u′ = 4X/(X+15Y+3Z), v′ = 9Y/(X+15Y+3Z); D65 white of IEC 61966-2-1, X 0.95047, Y 1, Z 1.08883.
it('gives white the u′v′ of its X, Y and Z: 0.1978, 0.4683', () => {
  const sum = 0.95047 + 15 + 3 * 1.08883
  expect(uOf(1, 1, 1)).toBeCloseTo((4 * 0.95047) / sum, 4)
  expect(vOf(1, 1, 1)).toBeCloseTo(9 / sum, 4)
  expect([uOf(1, 1, 1).toFixed(4), vOf(1, 1, 1).toFixed(4)]).toEqual(['0.1978', '0.4683'])
})

// WCAG 2.1's working definition, dropped from 2.2: R/(R+G+B) ≥ 0.8, and (R−G−B) × 320, negatives clipped to 0, changes
// by more than 20. It is written out here only to show that it is not what decides.
describe('the old red flash', () => {
  const value = ([r, g, b]: Rgb) => Math.max(0, r - g - b) * 320
  const isRed = ([r, g, b]: Rgb) => r + g + b > 0 && r / (r + g + b) >= 0.8
  const old = (a: Rgb, b: Rgb) => (isRed(a) || isRed(b)) && Math.abs(value(a) - value(b)) > 20
  const now = (a: Rgb, b: Rgb) => measure(alternate(a, b, 10)).red.transitions > 0

  it.each<[string, Rgb, Rgb, boolean, boolean]>([
    ['red and black: both', red, black, true, true],
    ['red and an orange near to it: only the old one', red, [1, 0.2, 0], true, false],
    ['dim red and black: only the new one', [0.05, 0, 0], black, false, true],
    ['white and black: neither', white, black, false, false],
  ])('%s', (_, a, b, byOld, byNew) => {
    expect([old(a, b), now(a, b)]).toEqual([byOld, byNew])
  })
})

// W3C WCAG 2.2, SC 2.3.1: 0.006 steradians within any 10 degree visual field, 25 % of it.
describe('how large flashing light looks', () => {
  it('is small below a quarter of the cone of 10°: 0.02391 sr × 0.25 is 0.006 sr', () => {
    expect(FIELD_SR).toBeCloseTo(0.02391, 5)
    expect(SMALL_SR).toBe(0.006)
    expect(0.25 * FIELD_SR).toBeCloseTo(0.00598, 5)
  })

  it.each([
    [5, 0.15, 0.875],
    [10, 0.6, 1.75],
    [20, 2.4, 3.5],
    [30, 5.4, 5.25],
  ])('from %i m: %f m², in a disc %f m across', (distance, area, across) => {
    expect(smallArea(distance)).toBeCloseTo(area, 10)
    expect(fieldWidth(distance)).toBeCloseTo(across, 2)
  })

  it('excuses nothing: one part of a small stage is warned of, as by SC 2.3.2 (whatever the size)', () => {
    const { rig, show } = sampleShow()
    const { long, across } = rig.builds[rig.fixtures.t0!.build]!.size
    const lit = 8 * long * across
    expect(lit).toBeLessThan(smallArea(20))
    expect(adviceOn({ part: 'high', hz: 5, duty: 0.5 }).map(a => a.kind)).toEqual(['fastFlashes'])
    expect(show.kits.kit!.parts.high!.fixtures).toHaveLength(8)
  })

  it('has no fine patterns to exempt: 0.1° is 9 mm from 5 m, and lamps with their glow are larger', () => {
    const fine = 2 * 5 * Math.tan(((0.1 / 2) * Math.PI) / 180)
    expect(fine).toBeCloseTo(0.0087, 4)
    const { rig } = sampleShow()
    expect(Math.min(...Object.values(rig.builds).map(({ size }) => size.across))).toBeGreaterThan(fine)
  })
})

// ITU-R BT.1702-3 (11/2023), read in the Spanish text; 334 ms second-hand. SDR white is 200 cd/m².
describe('ITU-R BT.1702-3', () => {
  it('has the same thresholds as WCAG 2.2 where white is 200 cd/m²: 20 is 10 %, 160 is 80 %', () => {
    const nits = (v: number): Rgb => [v / 200, v / 200, v / 200]
    const flashes = (low: number, high: number) =>
      measure(alternate(nits(low), nits(high), 10)).general.transitions > 0
    expect([flashes(0, 20), flashes(0, 19.9)]).toEqual([true, false])
    expect([flashes(159, 200), flashes(160, 200)]).toEqual([true, false])
    // Above 160 cd/m² it counts by Michelson contrast, from 1/17: the same 20 cd/m² at that point. For HDR screens only.
    expect((180 - 160) / (180 + 160)).toBeCloseTo(1 / 17, 12)
  })

  it('lets single, double and triple flashes stand that are isolated', () => {
    const burst = (flashes: number) => [
      ...Array<Rgb>(2 * RATE).fill(black),
      ...alternate(white, black, 5, flashes / 5),
      ...Array<Rgb>(2 * RATE).fill(black),
    ]
    for (const flashes of [1, 2, 3]) {
      const { general } = measure(burst(flashes))
      expect([general.transitions, general.fast, general.long]).toEqual([2 * flashes, [], []])
    }
    expect(measure(burst(4)).general.fast).toHaveLength(1)
  })

  it('has flashes separate at 360 ms, the longer and stricter of its two figures', () => {
    expect(SEPARATE_SECONDS).toBe(0.36)
    // Leading edges every `frames` frames for 8 s.
    const every = (frames: number, rate: number) =>
      measure(
        Array.from({ length: 8 * rate }, (_, n) => (n % frames < 5 ? white : black)),
        rate,
      ).general.long.length
    // At 50 Hz they are 18 frames apart; a second at 44 frames has no such step, and takes the next longer one.
    expect([every(14, 40), every(15, 40)]).toEqual([1, 0])
    expect([every(15, 44), every(16, 44)]).toEqual([1, 0])
    // 350 ms: separate at 60 Hz (334 ms), flashing that goes on here.
    expect(every(14, 40)).toBe(1)
    expect(14 / 40).toBeGreaterThan(0.334)
  })
})

// UK HSE advice as the Epilepsy Society gives it; that it is the combined output of all strobes in view: from memory.
describe('several strobes in view', () => {
  const half = (hz: number) => Math.round(960 / hz)

  it('count together: two parts at 3 a second, out of step, are 6 a second on the stage', () => {
    const together = adviceOn(
      { part: 'high', hz: 3, duty: 0.2 },
      { part: 'low', hz: 3, duty: 0.2, origin: half(3) },
    )
    expect(together).toMatchObject([{ kind: 'fastFlashes', severity: 'stop', flashes: 6 }])
    expect(together[0]!.says).toContain('the whole stage, up to 6 flashes a second')
  })

  it('are within both limits in step, as the advice wants strobes synchronised', () => {
    expect(adviceOn({ part: 'high', hz: 3, duty: 0.2 }, { part: 'low', hz: 3, duty: 0.2 })).toEqual([])
  })

  it('are told part by part where they even out exactly: half of the time each, in turn', () => {
    const turns = adviceOn(
      { part: 'high', hz: 5, duty: 0.5 },
      { part: 'low', hz: 5, duty: 0.5, origin: half(5) },
    )
    expect(turns.map(a => a.place.parts)).toEqual([['high'], ['low']])
    expect(turns.every(a => a.flashes === 5)).toBe(true)
  })
})

// Epilepsy Society: 3 to 30 a second are common, some people up to 60; 15 to 25 the worst: general teaching, second-hand.
it('says of 15 to 25 flashes a second that they are among the worst, and of others does not', () => {
  expect([provocative.worstFrom, provocative.worstTo]).toEqual([15, 25])
  const says = (hz: number) => adviceOn({ part: 'high', hz, duty: 0.5 })[0]!.says
  expect(says(16)).toMatch(/most likely to provoke a seizure/)
  expect(says(10)).not.toMatch(/provoke/)
})
