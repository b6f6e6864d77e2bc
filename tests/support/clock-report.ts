// The follower's figures: phase error and time to lock over synthetic clocks. Printed by a test and by the bench.

import type { Prediction } from '@glowchart/shared/clock/follower-state.ts'
import { type TempoMap, tempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import {
  type JitterModel,
  jitterRms,
  phaseError,
  sampled,
  type Train,
  timeToLock,
  train,
  trueTime,
} from './pulse-train.ts'

const BEAT = 960

export interface ClockCase {
  readonly name: string
  readonly truth: TempoMap
  /** The song's own map. */
  readonly song: TempoMap
  /** Beat of the event; errors and the time to lock count from there. */
  readonly from: number
  readonly faults?: Pick<Train, 'lost' | 'doubled'>
}

/** Over all seeds of a case: phase error (position given out against the truth, every ms), and time to lock. */
export interface ClockRow {
  readonly name: string
  readonly jitter: string
  readonly jitterRms: number
  /** Ms. */
  readonly rms: number
  readonly worst: number
  readonly worstBeats: number
  /** Ms until the error stays within `LOCK_MS`: mean and longest over the seeds. */
  readonly lock: number
  readonly lockWorst: number
  readonly lockBeats: number
}

const LOCK_MS = 2
const BEATS = 40

export const predictionOf = (tempo: TempoMap): Prediction => ({ tempo, shift: 0 })

export function clockRow(of: ClockCase, jitter: JitterModel, seeds: number): ClockRow {
  const { name, truth, song, from, faults } = of
  const event = trueTime(truth, from * BEAT)
  let [square, worst, worstBeats, lock, lockWorst] = [0, 0, 0, 0, 0]
  for (let seed = 1; seed <= seeds; seed++) {
    const messages = train({ truth, beats: BEATS, jitter, seed, ...faults })
    const samples = sampled(messages, predictionOf(song), truth)
    const error = phaseError(samples.filter(({ at }) => at >= event))
    const locked = timeToLock(samples, event, LOCK_MS)
    square += error.rms ** 2
    worst = Math.max(worst, error.worst)
    worstBeats = Math.max(worstBeats, error.worstBeats)
    lock += locked
    lockWorst = Math.max(lockWorst, locked)
  }
  return {
    name,
    jitter: jitter.kind === 'uniform' ? `uniform ±${jitter.ms}` : `Gaussian σ ${jitter.ms}`,
    jitterRms: jitterRms(jitter),
    rms: Math.sqrt(square / seeds),
    worst,
    worstBeats,
    lock: lock / seeds,
    lockWorst,
    lockBeats: (lock / seeds / 60_000) * truth[0]!.bpm,
  }
}

const foreseen = (name: string, truth: TempoMap): ClockCase[] => [
  { name: `${name}, in the song's map`, truth, song: truth, from: 16 },
  { name: `${name}, unforeseen`, truth, song: tempoMap(truth[0]!.bpm, []), from: 16 },
]

const steady = (bpm: number): TempoMap => tempoMap(bpm, [])
const step = (from: number, to: number): TempoMap => tempoMap(from, [{ at: ticks(16 * BEAT + 13), bpm: to }])
const ramp = (from: number, to: number, beats: number): TempoMap =>
  tempoMap(from, [{ at: ticks(16 * BEAT), bpm: to, glide: ticks(beats * BEAT) }])

/** Pulses of a gap of two seconds from beat 16 on. */
export const gap = (bpm: number) => (pulse: number) =>
  pulse >= 384 && pulse < 384 + Math.round(2000 / (2500 / bpm))

export const clockCases: readonly ClockCase[] = [
  ...[60, 90, 120, 150, 180].map(bpm => ({
    name: `steady ${bpm}, after 8 beats`,
    truth: steady(bpm),
    song: steady(bpm),
    from: 8,
  })),
  { name: 'steady 128, song written at 120', truth: steady(128), song: steady(120), from: 0 },
  { name: 'steady 60, song written at 120', truth: steady(60), song: steady(120), from: 0 },
  ...foreseen('step 120 to 126', step(120, 126)),
  ...foreseen('step 120 to 140', step(120, 140)),
  ...foreseen('step 120 to 60', step(120, 60)),
  ...foreseen('ramp 120 to 150 over 8 beats', ramp(120, 150, 8)),
  ...foreseen('ramp 120 to 80 over 4 beats', ramp(120, 80, 4)),
  ...[60, 120, 180].flatMap(bpm => [
    {
      name: `one pulse lost at ${bpm}`,
      truth: steady(bpm),
      song: steady(bpm),
      from: 8,
      faults: { lost: (n: number) => n === 250 },
    },
    {
      name: `one in twenty lost at ${bpm}`,
      truth: steady(bpm),
      song: steady(bpm),
      from: 8,
      faults: { lost: (n: number) => (n * 7919) % 20 === 3 },
    },
    {
      name: `all doubled at ${bpm}`,
      truth: steady(bpm),
      song: steady(bpm),
      from: 8,
      faults: { doubled: () => 0.8 },
    },
    {
      name: `gap of 2 s at ${bpm}`,
      truth: steady(bpm),
      song: steady(bpm),
      from: 16,
      faults: { lost: gap(bpm) },
    },
  ]),
]

export const jitters: readonly JitterModel[] = [
  { kind: 'uniform', ms: 1 },
  { kind: 'uniform', ms: 5 },
  { kind: 'gaussian', ms: 1 },
  { kind: 'gaussian', ms: 2.5 },
]

export function clockTable(rows: readonly ClockRow[]): string {
  const line = (cells: string[]): string =>
    cells.map((cell, i) => (i < 1 ? cell.padEnd(46) : cell.padStart(i < 2 ? 15 : 12))).join('')
  return [
    `MIDI clock follower: phase error of the position given out, and time until it stays within ${LOCK_MS} ms`,
    line([
      'case',
      'jitter',
      'rms ms',
      '/ jitter',
      'worst ms',
      'worst beats',
      'lock ms',
      'lock beats',
      'longest ms',
    ]),
    ...rows.map(row =>
      line([
        row.name,
        row.jitter,
        row.rms.toFixed(2),
        (row.rms / row.jitterRms).toFixed(3),
        row.worst.toFixed(1),
        row.worstBeats.toFixed(4),
        row.lock.toFixed(0),
        row.lockBeats.toFixed(2),
        row.lockWorst.toFixed(0),
      ]),
    ),
  ].join('\n')
}
