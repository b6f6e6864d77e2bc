// The meter map: bar starts and bar.beat places in any meter.
import { barBeatAt, barStart, meterMap, ticksPerBar } from '@glowchart/shared/time/meter.ts'
import { secondsAt, tempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

const unit = fc.constantFrom(1 as const, 2 as const, 4 as const, 8 as const, 16 as const, 32 as const)
const meter = fc.record({ beats: fc.integer({ min: 1, max: 64 }), unit })
const anyMap = fc
  .tuple(meter, fc.array(fc.record({ bar: fc.integer({ min: 0, max: 200 }), meter }), { maxLength: 8 }))
  .map(([first, changes]) => ({ first, changes, map: meterMap(first, changes) }))

describe('bars', () => {
  it('starts two bars each of 4/4 and 3/4 at 120 and of 7/8 at 150 on the right ticks and seconds', () => {
    // Computed, the tempo counting quarters: 4·0.5 s, 3·0.5 s and 3.5·0.4 s a bar.
    const meters = meterMap({ beats: 4, unit: 4 }, [
      { bar: 4, meter: { beats: 7, unit: 8 } },
      { bar: 2, meter: { beats: 3, unit: 4 } },
    ])
    const starts = [0, 1, 2, 3, 4, 5, 6].map(bar => barStart(meters, bar))
    expect(starts).toEqual([0, 3840, 7680, 10560, 13440, 16800, 20160])
    const tempo = tempoMap(120, [{ at: starts[4]!, bpm: 150 }])
    const times = [0, 2, 4, 5.5, 7, 8.4, 9.8]
    for (const [bar, start] of starts.entries()) expect(secondsAt(tempo, start)).toBeCloseTo(times[bar]!, 12)
  })

  it.each([
    { beats: 7, unit: 8, length: 3360 },
    { beats: 15, unit: 16, length: 3600 },
    { beats: 5, unit: 1, length: 19200 },
    { beats: 6, unit: 8, length: 2880 },
    { beats: 1, unit: 32, length: 120 },
  ] as const)('is $length ticks long in $beats/$unit', ({ beats, unit, length }) => {
    expect(ticksPerBar({ beats, unit })).toBe(length)
  })

  it('counts beats in the unit of the meter', () => {
    const map = meterMap({ beats: 7, unit: 8 }, [{ bar: 1, meter: { beats: 2, unit: 2 } }])
    expect(barBeatAt(map, ticks(3359))).toEqual({ bar: 0, beat: 6, tick: 479 })
    expect(barBeatAt(map, ticks(3360))).toEqual({ bar: 1, beat: 0, tick: 0 })
    expect(barBeatAt(map, ticks(3360 + 1920 + 7.5))).toEqual({ bar: 1, beat: 1, tick: 7.5 })
  })

  it('goes on backwards before the first bar, in its meter', () => {
    const map = meterMap({ beats: 3, unit: 4 }, [])
    expect(barBeatAt(map, ticks(-1))).toEqual({ bar: -1, beat: 2, tick: 959 })
    expect(barStart(map, -2)).toBe(-2 * 2880)
  })
})

describe('any meter map', () => {
  it('starts every bar on a whole tick, one bar of the meter in force after the one before', () => {
    fc.assert(
      fc.property(anyMap, ({ first, changes, map }) => {
        let at = 0
        let inForce = first
        for (let bar = 0; bar <= 210; bar++) {
          inForce = changes.findLast(change => change.bar === bar)?.meter ?? inForce
          expect(barStart(map, bar)).toBe(at)
          at += (inForce.beats * 3840) / inForce.unit
          expect(Number.isInteger(at)).toBe(true)
        }
      }),
    )
  })

  it('finds the bar, beat and tick that make up any tick', () => {
    fc.assert(
      fc.property(anyMap, fc.integer({ min: -50_000, max: 3_000_000 }), ({ first, changes, map }, tick) => {
        const place = barBeatAt(map, ticks(tick))
        const sorted = [...changes].sort((a, b) => a.bar - b.bar)
        const inForce = sorted.findLast(change => change.bar <= Math.max(0, place.bar))?.meter ?? first
        expect(barStart(map, place.bar) + (place.beat * 3840) / inForce.unit + place.tick).toBe(tick)
        expect(place.beat).toBeGreaterThanOrEqual(0)
        expect(place.beat).toBeLessThan(inForce.beats)
        expect(place.tick).toBeGreaterThanOrEqual(0)
        expect(place.tick).toBeLessThan(3840 / inForce.unit)
      }),
      { numRuns: 500 },
    )
  })
})
