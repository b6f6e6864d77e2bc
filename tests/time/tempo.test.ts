// The tempo map against closed forms, against a numeric integral, and against the laws it must keep.
import {
  bpmAt,
  secondsAt,
  type TempoChange,
  type TempoMap,
  tempoMap,
  ticksAt,
} from '@glowchart/shared/time/tempo.ts'
import { beats, seconds, ticks, ticksOfBeats } from '@glowchart/shared/time/units.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

const atBeat = (map: TempoMap, beat: number) => secondsAt(map, ticksOfBeats(beats(beat)))
const glideFromStart = (from: number, to: number, length: number) =>
  tempoMap(from, [{ at: ticks(0), bpm: to, glide: ticksOfBeats(beats(length)) }])

describe('steps', () => {
  it('places the ticks of a map of three tempos where @tonejs/midi 2.0.28 does', () => {
    // @tonejs/midi 2.0.28, header.ticksToSeconds at 480 a quarter: 120 at 0, 90 at 1920, 150 at 3840.
    const map = tempoMap(120, [
      { at: ticks(3840 * 2), bpm: 150 },
      { at: ticks(1920 * 2), bpm: 90 },
    ])
    const expected = [
      [1920, 2],
      [2400, 2.666667],
      [3840, 4.666667],
      [4800, 5.466667],
      [7680, 7.866667],
    ] as const
    for (const [tick, time] of expected) expect(secondsAt(map, ticks(tick * 2))).toBeCloseTo(time, 6)
  })

  it('has the new tempo on the tick of a step and the old one before it', () => {
    const map = tempoMap(120, [{ at: ticks(960), bpm: 90 }])
    expect([959.999, 960, 961].map(t => bpmAt(map, ticks(t)))).toEqual([120, 90, 90])
  })

  it('extends the first tempo before the start and the last one without end', () => {
    const map = tempoMap(120, [
      { at: ticks(0), bpm: 60, glide: ticks(960) },
      { at: ticks(1920), bpm: 30 },
    ])
    expect(atBeat(map, -4)).toBe(-2)
    expect(ticksAt(map, seconds(-2))).toBe(-4 * 960)
    expect(bpmAt(map, ticks(-5000))).toBe(120)
    expect(atBeat(map, 1002) - atBeat(map, 2)).toBeCloseTo(2000, 9)
    expect(bpmAt(map, ticks(1e9))).toBe(30)
  })

  it('lets the last of several steps on one tick count', () => {
    const map = tempoMap(120, [
      { at: ticks(0), bpm: 200 },
      { at: ticks(0), bpm: 60 },
    ])
    expect(atBeat(map, 1)).toBe(1)
    expect(map).toHaveLength(1)
  })
})

describe('glides', () => {
  // Closed form, computed: t(β) = 60N/(b1−b0) · ln(1 + (b1−b0)β/(N·b0)).
  it.each([
    { from: 120, to: 140, length: 16, whole: 7.399232632, half: 3.842049968 },
    { from: 120, to: 60, length: 4, whole: 4 * Math.LN2, half: 1.15072829 },
  ])('takes $whole s from $from to $to over $length beats, $half s for the first half', row => {
    const map = glideFromStart(row.from, row.to, row.length)
    expect(atBeat(map, row.length)).toBeCloseTo(row.whole, 9)
    expect(atBeat(map, row.length / 2)).toBeCloseTo(row.half, 9)
    expect(ticksAt(map, seconds(row.half)) / 960).toBeCloseTo(row.length / 2, 7)
  })

  it('is linear in beats, neither in time nor stepped', () => {
    const map = glideFromStart(120, 140, 16)
    expect([0, 4, 8, 12, 16, 20].map(b => bpmAt(map, ticksOfBeats(beats(b))))).toEqual([
      120, 125, 130, 135, 140, 140,
    ])
    // The other two readings of "120 to 140 over 16 beats", computed: linear in time, and a step at every beat.
    for (const other of [7.384615385, 7.435062065])
      expect(Math.abs(atBeat(map, 16) - other)).toBeGreaterThan(0.01)
  })

  it('starts from the tempo in force and is cut by a later mark at the tempo reached', () => {
    const map = tempoMap(100, [
      { at: ticks(0), bpm: 120 },
      { at: ticks(960), bpm: 200, glide: ticks(960 * 8) },
      { at: ticks(960 * 5), bpm: 80, glide: ticks(960 * 4) },
    ])
    expect(bpmAt(map, ticks(960))).toBe(120)
    expect(bpmAt(map, ticks(960 * 5))).toBe(160)
    expect(bpmAt(map, ticks(960 * 7))).toBe(120)
    expect(bpmAt(map, ticks(960 * 9))).toBe(80)
    expect(bpmAt(map, ticks(960 * 30))).toBe(80)
  })

  it('stays at the tempo reached where it is told to end early', () => {
    const map = tempoMap(100, [{ at: ticks(0), bpm: 180, glide: ticks(960 * 8), until: ticks(960 * 2) }])
    expect([1, 2, 3, 8].map(b => bpmAt(map, ticks(960 * b)))).toEqual([110, 120, 120, 120])
  })

  it('loses no precision when it hardly moves', () => {
    for (const difference of [0, 1e-15, 1e-12, 1e-9, -1e-12]) {
      const map = glideFromStart(120, 120 * (1 + difference), 1000)
      // First two terms of the closed form's series in the relative change; the third is below 1e-15.
      expect(Math.abs(atBeat(map, 1000) - 500 * (1 - difference / 2))).toBeLessThan(1e-12)
      expect(Math.abs(ticksAt(map, seconds(250)) - 480_000 * (1 + difference / 4))).toBeLessThan(1e-9)
    }
  })
})

const tempo = fc.double({ min: 20, max: 400, noNaN: true })
const change: fc.Arbitrary<TempoChange> = fc.record(
  { at: fc.integer({ min: 0, max: 400_000 }), bpm: tempo, glide: fc.integer({ min: 1, max: 60_000 }) },
  { requiredKeys: ['at', 'bpm'] },
) as never
const anyMap = fc
  .tuple(tempo, fc.array(change, { maxLength: 12 }))
  .map(([bpm, marks]) => tempoMap(bpm, marks))
const anyTick = fc.double({ min: -5000, max: 500_000, noNaN: true })

describe('any tempo map', () => {
  it('turns ticks to seconds and back within 1e-9 s, and seconds to ticks and back', () => {
    fc.assert(
      fc.property(anyMap, anyTick, (map, tick) => {
        const time = secondsAt(map, ticks(tick))
        const back = ticksAt(map, time)
        const secondsPerTick = 60 / bpmAt(map, ticks(tick)) / 960
        expect(Math.abs(back - tick) * secondsPerTick).toBeLessThan(1e-9)
        expect(Math.abs(secondsAt(map, back) - time)).toBeLessThan(1e-9)
      }),
      { numRuns: 1000 },
    )
  })

  it('never stands still: a later tick has a later time', () => {
    fc.assert(
      fc.property(anyMap, anyTick, fc.double({ min: 0.001, max: 5000, noNaN: true }), (map, tick, more) => {
        expect(secondsAt(map, ticks(tick + more))).toBeGreaterThan(secondsAt(map, ticks(tick)))
        const time = seconds(tick / 1000)
        expect(ticksAt(map, seconds(time + more / 1000))).toBeGreaterThan(ticksAt(map, time))
      }),
      { numRuns: 1000 },
    )
  })

  // Simpson's rule on single ticks is good to 1e-8 s for glides of this length; shorter ones are beyond it.
  const longer = change.map(mark => (mark.glide ? { ...mark, glide: ticks(mark.glide + 200) } : mark))
  it('agrees with a plain numeric integral of 60/BPM over the beats', () => {
    fc.assert(
      fc.property(tempo, fc.array(longer, { maxLength: 5 }), (bpm, marks) => {
        const map = tempoMap(bpm, marks)
        const end = 40_000
        expect(Math.abs(secondsAt(map, ticks(end)) - integral(bpm, marks, end))).toBeLessThan(1e-6)
      }),
      { numRuns: 60 },
    )
  })

  it('is plain data, the same after structuredClone and JSON', () => {
    fc.assert(
      fc.property(anyMap, anyTick, (map, tick) => {
        expect(secondsAt(structuredClone(map), ticks(tick))).toBe(secondsAt(map, ticks(tick)))
        expect(JSON.parse(JSON.stringify(map))).toEqual(map)
      }),
    )
  })
})

/** Written from the meaning of the marks alone: the tempo tick by tick, summed by Simpson's rule on each tick. */
function integral(bpm: number, marks: readonly TempoChange[], end: number): number {
  const sorted = [...marks].sort((a, b) => a.at - b.at)
  let from = { at: 0, bpm }
  let to: { at: number; bpm: number } = { at: 0, bpm }
  const tempoOf = (tick: number) =>
    tick >= to.at ? to.bpm : from.bpm + ((to.bpm - from.bpm) * (tick - from.at)) / (to.at - from.at)
  let sum = 0
  for (let tick = 0; tick < end; tick++) {
    while (sorted[0] && sorted[0].at <= tick) {
      const mark = sorted.shift()!
      from = { at: tick, bpm: tempoOf(tick) }
      to = { at: tick + (mark.glide ?? 0), bpm: mark.bpm }
    }
    sum += (1 / tempoOf(tick) + 4 / tempoOf(tick + 0.5) + 1 / tempoOf(tick + 1)) / 6
  }
  return (60 * sum) / 960
}
