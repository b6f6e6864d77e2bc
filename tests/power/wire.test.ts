// Wire, drop, strip and fuses against published figures.

import { cutOf, fullAmps } from '@glowchart/shared/power/draw.ts'
import { atTheLight, dropOf, type Path, pathOf, settled } from '@glowchart/shared/power/drop.ts'
import { fuseChoices, fuseFor } from '@glowchart/shared/power/fuse.ts'
import { areaOf, overcurrentLimit, resistancePerMetre } from '@glowchart/shared/power/wire.ts'
import type { Wire } from '@glowchart/shared/rig/electric.ts'
import { type Build, rigSchema } from '@glowchart/shared/rig/schema.ts'
import { describe, expect, it } from 'vitest'

const build = rigSchema.shape.builds.valueType
const lamp = (draw: unknown, rest: object = {}): Build =>
  build.parse({
    name: 'Lamp',
    shape: 'tube',
    size: { long: 1, across: 0.04 },
    cells: 1,
    channels: [{ does: 'red', cell: 0 }],
    draw,
    ...rest,
  })
const solid = (awg: number): Wire => ({ awg, solid: true })
const stranded = (awg: number): Wire => ({ awg, solid: false })
const KFT = 304.8

describe('the resistance of wire', () => {
  // Diameter and area by ASTM B258; ρ20 of the International Annealed Copper Standard, 1.7241e-8 Ω·m.
  it.each([
    [14, 2.0809, 8.285],
    [16, 1.3087, 13.174],
    [18, 0.823, 20.948],
    [20, 0.5176, 33.308],
    [22, 0.3255, 52.962],
  ])('%i AWG: %f mm², %f Ω/km solid at 20 °C', (awg, area, ohms) => {
    expect(areaOf(solid(awg))).toBeCloseTo(area, 3)
    expect(1000 * resistancePerMetre(solid(awg), 20)).toBeCloseTo(ohms, 2)
  })

  // NEC chapter 9, table 8: uncoated copper at 75 °C, Ω per 1000 ft, solid and 7 strands.
  it.each([
    [14, 3.07, 3.14],
    [16, 4.89, 4.99],
    [18, 7.77, 7.95],
  ])('%i AWG at 75 °C agrees with NEC chapter 9, table 8: %f and %f Ω/kft', (awg, one, seven) => {
    expect(Math.abs(KFT * resistancePerMetre(solid(awg), 75) - one) / one).toBeLessThan(0.003)
    expect(Math.abs(KFT * resistancePerMetre(stranded(awg), 75) - seven) / seven).toBeLessThan(0.005)
  })

  // IEC 60228, class 5, plain copper, greatest at 20 °C.
  it.each([
    [0.5, 39],
    [0.75, 26],
    [1, 19.5],
    [1.5, 13.3],
    [2.5, 7.98],
  ])('%f mm² flexible: %f Ω/km at 20 °C', (mm2, ohms) => {
    expect(1000 * resistancePerMetre({ mm2 }, 20)).toBeCloseTo(ohms, 9)
  })

  it('rises with warmth as the factor of IEC 60228 says: k = 254.5 / (234.5 + t)', () => {
    for (const t of [50, 75]) {
      const k = resistancePerMetre({ mm2: 1.5 }, 20) / resistancePerMetre({ mm2: 1.5 }, t)
      expect(k).toBeCloseTo(254.5 / (234.5 + t), 3)
    }
  })

  it('takes a size that is not listed as no better than its copper', () => {
    expect(resistancePerMetre({ mm2: 1.31 }, 20)).toBeGreaterThan(resistancePerMetre({ mm2: 1.5 }, 20))
    expect(resistancePerMetre({ mm2: 1.31 }, 20)).toBeLessThan(resistancePerMetre({ mm2: 1 }, 20))
    expect(resistancePerMetre({ mm2: 0.34 }, 20)).toBeGreaterThan(0.039)
  })
})

describe('the drop on four conductors', () => {
  // 20 ft of 16 AWG, NEC stranded at 75 °C: 0.09980 Ω one way. ΔV = R·(I_R + I_G + I_B) + R·I.
  const path: Path = { common: 0.0998, own: 0.0998 }

  it('of a cable by the model is that of the table', () => {
    const cable = { length: 6.096, wire: stranded(16), conductors: 4 }
    expect(pathOf(cable, 75).common).toBeCloseTo(0.0998, 3)
    expect(pathOf({ ...cable, wire: solid(16) }, 20).common).toBeCloseTo(0.08031, 4)
  })

  it.each([
    [0.4, 1.2, 0.1597],
    [5 / 3, 5, 0.6653],
    [2, 2, 0.3992],
  ])('is not 2·R·I: %f A of %f A in all lose %f V', (amps, all, volts) => {
    expect(dropOf(path, amps, all)).toBeCloseTo(volts, 4)
  })

  it('warms the cable by 3.327 W at 5 A', () => {
    const third = { red: 5 / 3, green: 5 / 3, blue: 5 / 3, white: 0 }
    // Currents that do not give way: the LEDs' volts are nothing against the resistor's.
    const stiff = lamp(
      { from: 'measured', amps: third },
      { volts: 12, forwardVolts: { red: 0, green: 0, blue: 0, white: 0 } },
    )
    const held = atTheLight({ ...stiff, volts: 12 }, path, 12 + 0.6653)
    expect(held.common).toBeCloseTo(5, 3)
    expect(held.cableWatts).toBeCloseTo(3.327, 2)
  })
})

describe('what settles at the end of a cable', () => {
  const none: Path = { common: 0, own: 0 }
  const segment = lamp({ from: 'strip', metres: 0.05, ledsPerMetre: 60 })

  // I = (V − 3·V_f) / R; red V_f 2.0 V and 300 Ω, green and blue 3.2 V and 120 Ω. The constants are from memory.
  it.each([
    [12, 20, 20],
    [11.5, 18.33, 15.83],
    [11, 16.67, 11.67],
    [10, 13.33, 3.33],
  ])(
    'at %f V a segment takes %f mA of red and %f mA of green (constants from memory)',
    (volts, red, green) => {
      const amps = settled(segment, none, volts)
      expect(1000 * amps.red).toBeCloseTo(red, 2)
      expect(1000 * amps.green).toBeCloseTo(green, 2)
      expect(amps.blue).toBe(amps.green)
    },
  )

  it('fulfils every colour’s own equation: its resistor takes what supply, cable and LEDs leave', () => {
    const bar = lamp({ from: 'strip', metres: 5, ledsPerMetre: 60 })
    const path: Path = { common: 0.21, own: 0.19 }
    const amps = settled(bar, path, 12)
    const all = amps.red + amps.green + amps.blue
    for (const [colour, forward] of [
      ['red', 6],
      ['green', 9.6],
      ['blue', 9.6],
    ] as const) {
      const resistor = (12 - forward) / 2
      expect(amps[colour] * resistor).toBeCloseTo(12 - dropOf(path, amps[colour], all) - forward, 9)
    }
    expect(amps.red).toBeGreaterThan(amps.green)
  })

  it('turns white red on a long thin cable, dims it, and leaves a short thick one alone', () => {
    const bar = lamp({ from: 'strip', metres: 4, ledsPerMetre: 60 })
    const thin = atTheLight(bar, pathOf({ length: 20, wire: { mm2: 0.5 }, conductors: 4 }, 20), 12)
    const thick = atTheLight(bar, pathOf({ length: 1, wire: { mm2: 2.5 }, conductors: 4 }, 20), 12)
    expect(thin.amps.red).toBeGreaterThan(thin.amps.green * 1.3)
    expect(thin.shift).toBeGreaterThan(0.02)
    expect(thin.brightness).toBeLessThan(0.7)
    expect(thick.shift).toBeLessThan(0.005)
    expect(thick.brightness).toBeGreaterThan(0.9)
  })

  it('leaves a colour dark whose LEDs the others starve, and says so in every figure', () => {
    const bar = lamp({ from: 'strip', metres: 5, ledsPerMetre: 60 })
    const starved = atTheLight(bar, { common: 4, own: 0 }, 12)
    expect(starved.amps.green).toBe(0)
    expect(starved.amps.red).toBeCloseTo((12 - 6) / (3 + 4), 9)
    expect(starved.common).toBe(starved.amps.red)
    expect(settled(bar, none, 5)).toEqual({ red: 0, green: 0, blue: 0, white: 0 })
  })

  it('takes only what is switched on: red alone has the cable for itself', () => {
    const bar = lamp({ from: 'strip', metres: 5, ledsPerMetre: 60 })
    const path: Path = { common: 0.2, own: 0.2 }
    expect(settled(bar, path, 12, ['red']).red).toBeGreaterThan(settled(bar, path, 12).red)
    expect(settled(bar, path, 12, ['red']).green).toBe(0)
  })
})

describe('what a strip draws', () => {
  // 60 mA a segment of three LEDs; 60 LEDs a metre, 1.2 A/m, 14.4 W/m at 12 V (Adafruit, "RGB LED strips").
  it('is 1.2 A a metre at 60 LEDs a metre, 0.6 A at 30', () => {
    expect(fullAmps(lamp({ from: 'strip', metres: 1, ledsPerMetre: 60 }))).toBeCloseTo(1.2, 9)
    expect(fullAmps(lamp({ from: 'strip', metres: 1, ledsPerMetre: 30 }))).toBeCloseTo(0.6, 9)
    expect(fullAmps(lamp({ from: 'watts', metres: 1, wattsPerMetre: 14.4 }))).toBeCloseTo(1.2, 9)
  })

  it('makes 11.5 A of eight tubes of 1.2 m at 14.4 W/m, and 1.44 A of eight bulbs of three segments', () => {
    expect(8 * fullAmps(lamp({ from: 'watts', metres: 1.2, wattsPerMetre: 14.4 }))).toBeCloseTo(11.52, 9)
    expect(8 * fullAmps(lamp({ from: 'strip', metres: 0.15, ledsPerMetre: 60 }))).toBeCloseTo(1.44, 9)
  })

  it('is cut to whole segments', () => {
    expect(cutOf(lamp({ from: 'strip', metres: 1.2, ledsPerMetre: 60 }))).toMatchObject({ segments: 24 })
    const cut = cutOf(lamp({ from: 'strip', metres: 1.23, ledsPerMetre: 60 }))!
    expect(cut.segments).toBe(24)
    expect(cut.over).toBeCloseTo(0.03, 9)
  })
})

describe('fuses', () => {
  // Sizes: ISO 8820-3 type C. Load at most 75 % of the fuse (makers' practice), or fuse at least 125 % (NEC).
  it.each([
    [1.2, 2, 2],
    [2.4, 4, 3],
    [3.6, 5, 5],
    [7.2, 10, 10],
    [8, 15, 10],
    [10, 15, 15],
  ])('%f A: %f A by the makers, %f A by the code', (amps, maker, code) => {
    expect(fuseFor(amps, 'maker')).toBe(maker)
    expect(fuseFor(amps, 'code')).toBe(code)
  })

  // NEC 2023, 240.4(D)(1) and (2): 18 AWG copper 7 A, 16 AWG 10 A.
  it('stop at what the conductor allows: 8 A on 16 AWG has a legal one under one rule only', () => {
    expect(overcurrentLimit(stranded(16))).toBe(10)
    expect(overcurrentLimit(stranded(18))).toBe(7)
    expect(overcurrentLimit(stranded(20))).toBeNull()
    expect(overcurrentLimit({ mm2: 1 })).toBe(7)
    expect(overcurrentLimit({ mm2: 1.5 })).toBe(10)
    expect(fuseChoices(8, stranded(16))).toEqual([
      { rule: 'maker', limit: 10, fuse: null },
      { rule: 'code', limit: 10, fuse: 10 },
    ])
    expect(fuseChoices(10, stranded(16)).map(choice => choice.fuse)).toEqual([null, null])
  })
})
