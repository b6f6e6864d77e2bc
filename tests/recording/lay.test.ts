// Bars laid on beats: even tempo, tempo that follows, bars fitted by hand; checked through the tempo map that results.

import { fitBar } from '@glowchart/shared/beats/fit-bar.ts'
import { feltBeat, layBars, withMarks } from '@glowchart/shared/beats/lay.ts'
import { atRate, smoothBeats, steadyBeats } from '@glowchart/shared/beats/steady.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { gaussian, random } from '../support/random.ts'
import { song } from '../time/songs.ts'

const even = (count: number, bpm: number, first = 0) =>
  Array.from({ length: count }, (_, i) => first + (i * 60) / bpm)

/** Where a bar (1-based) of a song begins in the recording. */
function barTime(of: Song, start: number, bar: number): number {
  const { meters, tempo } = timelineOf(of)
  return start + secondsAt(tempo, barStart(meters, bar - 1))
}

/** Worst distance between beats and the song's places for them, from the downbeat on, s. */
function worstError(of: Song, start: number, beats: readonly number[], beat = 960): number {
  const { tempo, length } = timelineOf(of)
  const errors = beats
    .map((time, i) => ({ tick: i * beat, time }))
    .filter(({ tick }) => tick <= length)
    .map(({ tick, time }) => Math.abs(start + secondsAt(tempo, ticks(tick)) - time))
  return Math.max(...errors)
}

describe('an even tempo', () => {
  it('is found to a hundredth of a BPM under the jitter of onsets, and over gaps', () => {
    const next = random(7)
    const beats = even(300, 123.4, 0.7).map(t => t + 0.008 * gaussian(next))
    const { interval, first, indices } = steadyBeats(beats.filter((_, i) => i < 90 || i > 97))!
    expect(60 / interval).toBeCloseTo(123.4, 1)
    expect(Math.abs(first - 0.7)).toBeLessThan(0.003)
    expect(indices.at(-1)).toBe(299)
  })

  it('is not bent by a few beats that are far off', () => {
    const beats = even(100, 90, 1).map((t, i) => (i % 20 === 7 ? t + 0.2 : t))
    const { interval, first } = steadyBeats(beats)!
    expect(60 / interval).toBeCloseTo(90, 6)
    expect(first).toBeCloseTo(1, 6)
  })

  it('is none for fewer than two beats, or beats that stand still', () => {
    expect([steadyBeats([]), steadyBeats([1]), steadyBeats([1, 1, 1])]).toEqual([null, null, null])
    expect(layBars(song({ a: { bars: 4 } }), [1], 0, true)).toBeNull()
  })

  it('puts bar 1 on the beat that was chosen', () => {
    const fit = layBars(song({ a: { bars: 8 } }), even(64, 100, 0.5), 3, false)!
    expect(fit.bpm).toBeCloseTo(100, 9)
    expect(fit.start).toBeCloseTo(0.5 + 3 * 0.6, 9)
    expect(fit.worst).toBeLessThan(1e-9)
  })

  it.each([
    { meter: { beats: 4, unit: 4 }, beat: 960, bpm: 100 },
    { meter: { beats: 6, unit: 8 }, beat: 1440, bpm: 150 },
    { meter: { beats: 3, unit: 8 }, beat: 480, bpm: 50 },
    { meter: { beats: 2, unit: 2 }, beat: 1920, bpm: 200 },
    { meter: { beats: 7, unit: 8 }, beat: 480, bpm: 50 },
  ] as const)('counts $meter.beats/$meter.unit in beats of $beat ticks', ({ meter, beat, bpm }) => {
    expect(feltBeat(meter)).toBe(beat)
    expect(layBars(song({ a: { bars: 4 } }, { meter }), even(64, 100), 0, false)!.bpm).toBeCloseTo(bpm, 9)
  })

  it('takes away marks that stood there', () => {
    const before = song({ a: { bars: 4, tempo: [{ at: 960, bpm: 90 }] }, b: { bars: 4 } })
    expect(layBars(before, even(64, 100), 0, false)!.marks).toEqual({ a: [], b: [] })
  })
})

describe('half and double', () => {
  it('leaves out every other beat, or puts one between', () => {
    expect(atRate([0, 1, 2, 3, 4], 0.5)).toEqual([0, 2, 4])
    expect(atRate([0, 1, 3], 2)).toEqual([0, 0.5, 1, 2, 3])
    expect(atRate([0, 1, 3], 1)).toEqual([0, 1, 3])
  })
})

describe('a tempo that follows', () => {
  /** A drummer: the tempo wanders slowly within some percent. */
  const wandering = (seed: number, count: number, bpm: number, share: number): number[] => {
    const phase = random(seed)() * 6
    const times = [0.4]
    for (let i = 1; i < count; i++) {
      times.push(times[i - 1]! + 60 / (bpm * (1 + share * Math.sin(phase + i / 40))))
    }
    return times
  }
  const sections = { a: { bars: 8 }, b: { bars: 16 }, c: { bars: 24 }, d: { bars: 16 } }

  it('keeps every beat of a wandering drummer within 15 ms, with fewer marks than bars', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 70, max: 180 }),
        fc.constantFrom(0.005, 0.01, 0.03),
        (seed, bpm, share) => {
          const beats = wandering(seed, 64 * 4 + 1, bpm, share)
          const before = song(sections)
          const fit = layBars(before, beats, 0, true)!
          const after = withMarks({ ...before, bpm: fit.bpm }, fit.marks)
          expect(worstError(after, fit.start, beats)).toBeLessThan(0.015)
          expect(fit.worst).toBeLessThan(0.015)
          expect(Object.values(fit.marks).flat().length).toBeLessThan(64)
        },
      ),
      { numRuns: 40, seed: 3 },
    )
  })

  it('needs no mark where the tempo is even', () => {
    const next = random(11)
    const beats = even(257, 128, 0.3).map(t => t + 0.003 * gaussian(next))
    const fit = layBars(song(sections), beats, 0, true)!
    expect(Object.values(fit.marks).flat().length).toBeLessThanOrEqual(1)
    expect(Math.abs(fit.bpm - 128)).toBeLessThan(0.2)
  })

  it('steps where the band steps: one mark at the section, with the new tempo', () => {
    const beats = even(33, 100, 1)
    beats.push(...even(200, 140, beats.at(-1)!).slice(1))
    const fit = layBars(song(sections), beats, 0, true)!
    const after = withMarks({ ...song(sections), bpm: fit.bpm }, fit.marks)
    expect(worstError(after, fit.start, beats)).toBeLessThan(0.015)
    expect(Object.values(fit.marks).map(marks => marks.length)).toEqual([0, 1, 0, 0])
    const { tempo } = timelineOf(after)
    expect(tempo.at(-1)!.bpm).toBeCloseTo(140, 0)
    expect(tempo[0]!.bpm).toBeCloseTo(100, 0)
  })

  it('goes on in its last tempo where the recording ends before the song', () => {
    const fit = layBars(song(sections), even(40, 120), 0, true)!
    const after = withMarks({ ...song(sections), bpm: fit.bpm }, fit.marks)
    expect(barTime(after, fit.start, 65)).toBeCloseTo(128, 2)
  })

  it('says how far a section that repeats another stays off, and is right again after it', () => {
    const before = song({
      a: { bars: 8 },
      copy: { bars: 8, sameAs: { section: 'a' } },
      c: { bars: 8 },
    })
    const beats = even(33, 100)
    beats.push(
      ...even(33, 104, beats.at(-1)!).slice(1),
      ...even(33, 100, beats.at(-1)! + 32 * (60 / 104)).slice(1),
    )
    const fit = layBars(before, beats, 0, true)!
    const after = withMarks({ ...before, bpm: fit.bpm }, fit.marks)
    expect(fit.marks.copy).toBeUndefined()
    expect(fit.worst).toBeGreaterThan(0.1)
    expect(Math.abs(barTime(after, fit.start, 24) - beats[92]!)).toBeLessThan(0.03)
  })

  it('smooths without moving an even pulse', () => {
    for (const [i, time] of smoothBeats(even(50, 97, 2)).entries()) {
      expect(time).toBeCloseTo(2 + (i * 60) / 97, 9)
    }
  })
})

describe('a bar fitted by hand', () => {
  const plain = song({ a: { bars: 8 }, b: { bars: 8 } })
  const apply = (of: Song, fit: ReturnType<typeof fitBar>) => withMarks({ ...of, bpm: fit.bpm }, fit.marks)

  it('gives the whole song the tempo that brings it there, when nothing was fitted before', () => {
    const fit = fitBar(plain, 0.5, 0, 8, 18.5)
    const after = apply(plain, fit)
    expect(barTime(after, 0.5, 9)).toBeCloseTo(18.5, 9)
    expect(fit.bpm).toBeCloseTo((60 * 32) / 18, 9)
    expect(Object.values(fit.marks).flat()).toEqual([])
  })

  it('leaves what was fitted before, and goes on in the new tempo', () => {
    const first = apply(plain, fitBar(plain, 0, 0, 4, 8.4))
    const second = apply(first, fitBar(first, 0, 4, 12, 23))
    expect(barTime(second, 0, 5)).toBeCloseTo(8.4, 9)
    expect(barTime(second, 0, 13)).toBeCloseTo(23, 9)
    expect(barTime(second, 0, 17) - 23).toBeCloseTo((23 - 8.4) / 2, 9)
  })

  it('keeps the tempos after it', () => {
    const marked = song({ a: { bars: 8 }, b: { bars: 8, tempo: [{ at: 4 * 3840, bpm: 60 }] } })
    const after = apply(marked, fitBar(marked, 0, 0, 8, 20))
    expect(barTime(after, 0, 9)).toBeCloseTo(20, 9)
    expect(barTime(after, 0, 13) - barTime(after, 0, 9)).toBeCloseTo(8, 9)
    expect(barTime(after, 0, 17) - barTime(after, 0, 13)).toBeCloseTo(16, 9)
  })

  it.each([
    { what: 'a tempo above 400', args: [0, 0, 8, 1], code: 'edit.outside' },
    { what: 'a place before bar 1', args: [5, 0, 8, 4], code: 'edit.outside' },
    { what: 'a bar past the end', args: [0, 0, 17, 40], code: 'edit.outside' },
    { what: 'a bar before the one that stays', args: [0, 4, 4, 40], code: 'edit.outside' },
  ] as const)('refuses $what', ({ args: [start, from, bar, time], code }) => {
    expect(() => fitBar(plain, start, from, bar, time)).toThrow(expect.objectContaining({ code }))
  })

  it('refuses to bend the tempo that a section takes from another', () => {
    const linked = song({ a: { bars: 8 }, copy: { bars: 8, sameAs: { section: 'a' } } })
    expect(() => fitBar(linked, 0, 8, 12, 30)).toThrow(expect.objectContaining({ code: 'edit.linked' }))
    expect(() => fitBar(linked, 0, 4, 12, 30)).toThrow(expect.objectContaining({ code: 'edit.linked' }))
  })
})
