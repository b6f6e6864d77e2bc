// How well the follower follows: its figures over synthetic clocks, printed as a table, and the bounds they must keep.

import { tempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { afterAll, describe, expect, it } from 'vitest'
import {
  type ClockRow,
  clockCases,
  clockRow,
  clockTable,
  gap,
  jitters,
  predictionOf,
} from '../support/clock-report.ts'
import {
  type JitterModel,
  phaseError,
  type Sample,
  sampled,
  train,
  trueTime,
} from '../support/pulse-train.ts'

const SEEDS = 3
const rows: ClockRow[] = []
afterAll(() => console.log(clockTable(rows)))

/** Speeds from sample to sample, 1 at `bpm`. */
function speeds(samples: readonly Sample[], bpm: number): { slowest: number; fastest: number } {
  let [slowest, fastest] = [Number.POSITIVE_INFINITY, 0]
  for (let i = 1; i < samples.length; i++) {
    const [before, now] = [samples[i - 1]!, samples[i]!]
    const speed = (now.ticks - before.ticks) / ((now.at - before.at) * bpm * 0.016)
    slowest = Math.min(slowest, speed)
    fastest = Math.max(fastest, speed)
  }
  return { slowest, fastest }
}

describe('the follower', () => {
  it.each(jitters)('reports its figures under $kind jitter of $ms ms', jitter => {
    for (const of of clockCases) {
      const row = clockRow(of, jitter, SEEDS)
      rows.push(row)
      expect(row.worstBeats, row.name).toBeLessThan(0.5)
    }
  })

  it('keeps phase to a fifth of the jitter after 8 beats of steady tempo, at ±5 ms and 60–180 BPM', () => {
    const jitter: JitterModel = { kind: 'uniform', ms: 5 }
    for (const bpm of [60, 75, 90, 105, 120, 135, 150, 165, 180]) {
      for (const written of [bpm, bpm * 0.94]) {
        for (let seed = 1; seed <= SEEDS; seed++) {
          const truth = tempoMap(bpm, [])
          const samples = sampled(
            train({ truth, beats: 48, jitter, seed }),
            predictionOf(tempoMap(written, [])),
            truth,
          )
          const { rms } = phaseError(samples.filter(({ at }) => at >= trueTime(truth, 8 * 960)))
          expect(rms, `${bpm} BPM, written at ${written}, seed ${seed}`).toBeLessThanOrEqual(
            5 / Math.sqrt(3) / 5,
          )
        }
      }
    }
  })

  it('has no transient where the song foresees a step or a ramp: the same bound as for steady tempo', () => {
    const jitter: JitterModel = { kind: 'uniform', ms: 5 }
    const steps = tempoMap(120, [
      { at: ticks(12 * 960), bpm: 160 },
      { at: ticks(20 * 960), bpm: 80 },
    ])
    const glides = tempoMap(120, [
      { at: ticks(12 * 960), bpm: 170, glide: ticks(8 * 960) },
      { at: ticks(24 * 960), bpm: 70, glide: ticks(4 * 960) },
    ])
    for (const truth of [steps, glides]) {
      for (let seed = 1; seed <= SEEDS; seed++) {
        const samples = sampled(train({ truth, beats: 40, jitter, seed }), predictionOf(truth), truth)
        const { rms } = phaseError(samples.filter(({ at }) => at >= trueTime(truth, 8 * 960)))
        expect(rms).toBeLessThanOrEqual(5 / Math.sqrt(3) / 5)
      }
    }
  })

  it('turns to a tempo that nobody foresaw: within 2 ms a beat and a half after a step of a sixth', () => {
    const truth = tempoMap(120, [{ at: ticks(16 * 960 + 13), bpm: 140 }])
    for (let seed = 1; seed <= SEEDS; seed++) {
      const samples = sampled(
        train({ truth, beats: 32, jitter: { kind: 'uniform', ms: 1 }, seed }),
        predictionOf(tempoMap(120, [])),
        truth,
      )
      const { worst } = phaseError(samples.filter(({ at }) => at >= trueTime(truth, 17.5 * 960)))
      expect(worst).toBeLessThan(2)
    }
  })

  it.each([60, 90, 120, 150, 180])(
    'free-wheels over 2 s of lost pulses at %d BPM, comes back at 0.5–2 times the speed, and is right 2 beats later',
    bpm => {
      for (const jitter of jitters) {
        if (jitter.kind === 'gaussian') continue
        for (let seed = 1; seed <= SEEDS; seed++) {
          const truth = tempoMap(bpm, [])
          const samples = sampled(
            train({ truth, beats: 40, jitter, seed, lost: gap(bpm) }),
            predictionOf(truth),
            truth,
          )
          const lastPulse = trueTime(truth, 383 * 40)
          const back = lastPulse + 2000
          const lost = samples.filter(({ at }) => at > lastPulse + 150 && at < back - 10)
          expect(lost.length).toBeGreaterThan(1000)
          expect(lost.every(({ lock }) => lock === 'lost')).toBe(true)
          // The last tempo is held: at ±5 ms it is known to half a percent.
          expect(Math.max(...lost.map(({ bpm: now }) => Math.abs(now / bpm - 1)))).toBeLessThan(0.005)
          const { slowest, fastest } = speeds(
            samples.filter(({ at }) => at >= back - 20),
            bpm,
          )
          expect(slowest).toBeGreaterThanOrEqual(0.5)
          expect(fastest).toBeLessThanOrEqual(2)
          const after = samples.filter(({ at }) => at >= back + 2 * (60_000 / bpm))
          expect(phaseError(after).worstBeats).toBeLessThan(0.25)
          expect(after.at(-1)!.lock).toBe('locked')
        }
      }
    },
  )

  it('comes back over a changed tempo by slewing, never by a jump', () => {
    // The sender went on 6 % slower during the gap: nobody can know how many pulses were lost.
    const bpm = 120
    const truth = tempoMap(bpm, [{ at: ticks(384 * 40), bpm: 113 }])
    const samples = sampled(
      train({ truth, beats: 40, lost: gap(bpm) }),
      predictionOf(tempoMap(bpm, [])),
      truth,
    )
    const { slowest, fastest } = speeds(samples, bpm)
    expect(slowest).toBeGreaterThanOrEqual(0.5)
    expect(fastest).toBeLessThanOrEqual(2)
    expect(slowest).toBeLessThan(0.95)
    // And stays a whole number of pulses from the truth, at its tempo.
    const last = samples.at(-1)!
    expect(last.bpm).toBeCloseTo(113, 1)
    expect(Math.abs(last.beats * 24 - Math.round(last.beats * 24))).toBeLessThan(0.05)
  })
})
