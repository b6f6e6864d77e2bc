// The follower of MIDI time code: a pure step from one timestamped message to the next state of where the time is.

import type { ClockStatus } from '../messages.ts'
import { assembled, fullFrame, type MtcAssembly, type MtcPlace, mtcAssembly } from './mtc-assembly.ts'
import type { MidiMessage } from './parser.ts'
import { corrected, doubted, lineAt, type PhaseFilter, predicted } from './phase-filter.ts'
import { framesPerSecond, type TimecodeRate } from './timecode.ts'

/**
 * Plain data: may be cloned, sent and stored. Times are ms of the clock that stamps the bytes.
 * - `unknown`: nothing has said where the time is
 * - `standing`: at `held`, by a full frame, a stop, or winding back
 * - `running`: quarter frames move it
 */
export interface MtcFollower {
  readonly mode: 'unknown' | 'standing' | 'running'
  readonly rate: TimecodeRate
  readonly assembly: MtcAssembly
  /** Where a full frame has put it, and nothing has moved it since: the first quarter frames go on from there. */
  readonly cued: boolean
  /** Quarter frames from 00:00:00:00 of the place that the filter counts from. */
  readonly quarters: number
  /** Seconds, while standing. */
  readonly held: number
  /** False after a gap, until a whole label has come again. */
  readonly counts: boolean
  /** A whole label that does not fit: a second one that follows it is believed. */
  readonly elsewhere: number | null
  /** Times it was told to be elsewhere: the only times it may go back. */
  readonly relocations: number
  readonly heardAt: number | null
  readonly now: number
  readonly filter: PhaseFilter
  /** Mean square of the quarter frames' jitter, and mean of their last errors, ms. */
  readonly noise: { readonly square: number; readonly mean: number; readonly count: number }
  readonly slew: { readonly ahead: number; readonly since: number; readonly over: number }
}

/** Silence after which quarter frames count as lost: ten or so of them. */
const LOST_MS = 100
/**
 * How long the time goes on by itself when quarter frames cease. Time code has no message for a stop: it ceases, as it
 * does when the cable comes off. So it plays on for two seconds, with an alarm, and then stands; at once by Stop (FC)
 * or a full frame; and after a quarter of a second when other bytes still come, as then the cable is whole.
 */
export const FREE_WHEEL_MS = 2000
const STOPPED_MS = 250
/** Further off than this (s), the time is somewhere else; less is slewed. */
const ELSEWHERE = 0.2
/** Speeds at which the time given out meets the filter's line, and the least time it takes: as with MIDI clock. */
const SLOWEST = 0.6
const FASTEST = 1.6
const SLEW_MS = 80
const JITTER_FLOOR = 0.25
const JITTER_PRIOR = 1.5
const SPEED_PRIOR = 0.01
const SQUARE_COUNT = 128
const MEAN_COUNT = 8

export const mtcFollower: MtcFollower = {
  mode: 'unknown',
  rate: '25',
  assembly: mtcAssembly,
  cued: false,
  quarters: 0,
  held: 0,
  counts: false,
  elsewhere: null,
  relocations: 0,
  heardAt: null,
  now: 0,
  filter: { at: 0, phase: 0, ratio: 1, phaseVariance: 0, covariance: 0, ratioVariance: SPEED_PRIOR ** 2 },
  noise: { square: JITTER_PRIOR ** 2, mean: 0, count: 4 },
  slew: { ahead: 0, since: 0, over: 1 },
}

/**
 * Takes one message; those that say nothing of time code change nothing. A time before one already seen counts as that
 * one. The time given out (`mtcSecondsAt`) never falls unless `relocations` has risen.
 */
export function followMtc(before: MtcFollower, message: MidiMessage): MtcFollower {
  if (!Number.isFinite(message.at)) return before
  const at = Math.max(message.at, before.now)
  const state = { ...before, now: at }
  switch (message.type) {
    case 'quarterFrame':
      return quarterFrame(state, message.data, at)
    case 'sysEx': {
      const place = fullFrame(message.bytes)
      return place ? cuedAt(state, place) : state
    }
    case 'stop':
      return state.mode === 'running' ? stoodAt(state, at) : state
    case 'activeSensing':
    case 'clock':
      return state.mode === 'running' && at - state.heardAt! > STOPPED_MS ? stoodAt(state, at) : state
    default:
      return before
  }
}

/** Timecode seconds (from 00:00:00:00) at a time. */
export function mtcSecondsAt(state: MtcFollower, at: number): number {
  if (state.mode !== 'running') return state.held
  const { quarters, rate, filter, slew, heardAt } = state
  const until = Math.min(at, heardAt! + FREE_WHEEL_MS)
  const left = Math.min(1, Math.max(0, 1 - (until - slew.since) / slew.over))
  return secondsOf(quarters, rate) + (lineAt(filter, until) + slew.ahead * left) / 1000
}

/** False while the time stands. */
export const mtcRuns = (state: MtcFollower, at: number): boolean =>
  state.mode === 'running' && at - state.heardAt! <= FREE_WHEEL_MS

/** Locked: place known to 2 ms and speed to 1 % (standard deviations), as with MIDI clock. */
export function mtcLock(state: MtcFollower, at: number): ClockStatus['lock'] {
  const silent = state.heardAt === null || at - state.heardAt > LOST_MS
  if (state.mode === 'unknown') return silent ? 'waiting' : 'locking'
  if (state.mode === 'standing') return silent ? 'stopped' : 'locking'
  if (silent) return mtcRuns(state, at) ? 'lost' : 'stopped'
  const sure = state.filter.phaseVariance < 4 && state.filter.ratioVariance < 1e-4
  return sure && state.counts ? 'locked' : 'locking'
}

/** RMS of the jitter, ms. */
export const mtcJitter = ({ noise }: MtcFollower): number => Math.sqrt(noise.square)

const quarterMs = (rate: TimecodeRate): number => 250 / framesPerSecond(rate)
const secondsOf = (quarters: number, rate: TimecodeRate): number => (quarters * quarterMs(rate)) / 1000

function cuedAt(state: MtcFollower, { quarters, rate }: MtcPlace): MtcFollower {
  return {
    ...relocated(state, secondsOf(quarters, rate)),
    mode: 'standing',
    rate,
    quarters,
    cued: true,
    assembly: mtcAssembly,
  }
}

const relocated = (state: MtcFollower, held: number): MtcFollower => ({
  ...state,
  held,
  elsewhere: null,
  relocations: state.relocations + 1,
})

const stoodAt = (state: MtcFollower, at: number): MtcFollower => ({
  ...state,
  mode: 'standing',
  held: mtcSecondsAt(state, at),
  cued: false,
  counts: false,
})

function quarterFrame(before: MtcFollower, data: number, at: number): MtcFollower {
  const gap = before.heardAt === null ? Number.POSITIVE_INFINITY : at - before.heardAt
  let state = before
  if (state.mode === 'running' && gap > FREE_WHEEL_MS) state = stoodAt(state, at)
  // Over a gap nobody knows how many pieces were lost, nor whether the halves of a label belong together.
  if (gap > LOST_MS) state = { ...state, counts: false, ...(!state.cued && { assembly: mtcAssembly }) }
  const { last } = state.assembly
  state = { ...state, heardAt: at }
  // The same piece again is a double.
  if (data >> 4 === last) return state
  const { assembly, place } = assembled(state.assembly, data)
  const step = last < 0 ? 0 : (assembly.last - last + 8) % 8
  state = { ...state, assembly }
  if (assembly.direction === -1) return woundBack(state, place, at)
  if (state.cued) return state.assembly.run < 2 ? state : startedAt(state, state.quarters + 1, state.rate, at)
  if (place) return labelled(state, place, step, at)
  return state.mode === 'running' && state.counts ? taken(state, state.quarters + step, at) : state
}

/** Backwards the song stands, and goes along with the time in steps of a label. */
function woundBack(before: MtcFollower, place: MtcPlace | null, at: number): MtcFollower {
  // A single piece that came early looks like seven lost ones.
  if (before.assembly.run < 4) return before
  const state = before.mode === 'running' ? stoodAt(before, at) : { ...before, cued: false }
  if (!place) return state
  return { ...relocated(state, secondsOf(place.quarters, place.rate)), mode: 'standing', rate: place.rate }
}

/** A whole label has come. */
function labelled(state: MtcFollower, { quarters, rate }: MtcPlace, step: number, at: number): MtcFollower {
  if (state.mode !== 'running' || rate !== state.rate) return startedAt(state, quarters, rate, at)
  if (state.counts && quarters === state.quarters + step)
    return taken({ ...state, elsewhere: null }, quarters, at)
  const line = secondsOf(state.quarters, rate) + lineAt(state.filter, at) / 1000
  const off = secondsOf(quarters, rate) - line
  if (Math.abs(off) <= ELSEWHERE) {
    const error = 1000 * off
    const filter = doubted(predicted(state.filter, at, true), error, Math.min(0.01, Math.abs(error) / 1e4))
    return taken({ ...state, filter, counts: true, elsewhere: null }, quarters, at)
  }
  if (state.elsewhere === quarters - 8) return startedAt(state, quarters, rate, at)
  return { ...state, counts: false, elsewhere: quarters }
}

/** The time runs from here. */
function startedAt(state: MtcFollower, quarters: number, rate: TimecodeRate, at: number): MtcFollower {
  const noise = Math.max(state.noise.square, JITTER_FLOOR ** 2)
  return {
    ...relocated(state, secondsOf(quarters, rate)),
    mode: 'running',
    rate,
    quarters,
    cued: false,
    counts: true,
    filter: {
      at,
      phase: 0,
      ratio: 1,
      phaseVariance: noise,
      covariance: 0,
      ratioVariance: SPEED_PRIOR ** 2,
    },
    noise: { ...state.noise, mean: 0 },
    slew: { ahead: 0, since: at, over: 1 },
  }
}

/** Corrects place and speed by a quarter frame; what is given out goes on from where it was. */
function taken(state: MtcFollower, quarters: number, at: number): MtcFollower {
  const before = mtcSecondsAt(state, at)
  const step = (quarters - state.quarters) * quarterMs(state.rate)
  const ready = predicted(state.filter, at, at - state.filter.at > LOST_MS)
  const error = step - ready.phase
  const mean = state.noise.mean + (error - state.noise.mean) / MEAN_COUNT
  const expected = Math.max(state.noise.square, JITTER_FLOOR ** 2)
  // Errors that keep to one side are no jitter: the time has moved, or runs at another speed.
  const drifts = mean ** 2 > (20 * (ready.phaseVariance + expected)) / (2 * MEAN_COUNT - 1)
  const trusted = drifts ? doubted(ready, mean, mean / (MEAN_COUNT * quarterMs(state.rate))) : ready
  const filter = corrected(trusted, step, Math.max(expected, error ** 2 / 16))
  const count = Math.min(state.noise.count + 1, SQUARE_COUNT)
  const square = state.noise.square + (Math.min(error ** 2, 16 * expected) - state.noise.square) / count
  const after: MtcFollower = {
    ...state,
    quarters,
    filter,
    noise: { square, mean: drifts ? 0 : mean, count },
  }
  const ahead = 1000 * (before - secondsOf(quarters, state.rate)) - filter.phase
  const room = filter.ratio * (ahead > 0 ? 1 - SLOWEST : FASTEST - 1)
  return { ...after, slew: { ahead, since: at, over: Math.max(SLEW_MS, Math.abs(ahead) / room) } }
}
