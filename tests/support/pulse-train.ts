// MIDI clock as a sequencer would send it, with a seeded jitter, and how far a follower is from the truth.

import { follow } from '@glowchart/shared/clock/follower.ts'
import { type Follower, follower, type Prediction } from '@glowchart/shared/clock/follower-state.ts'
import type { MidiMessage } from '@glowchart/shared/clock/parser.ts'
import { positionAt, unknownPosition } from '@glowchart/shared/clock/position.ts'
import { secondsAt, type TempoMap, ticksAt } from '@glowchart/shared/time/tempo.ts'
import { seconds, TICKS_PER_PULSE, ticks } from '@glowchart/shared/time/units.ts'
import { gaussian, random } from './random.ts'

export interface JitterModel {
  readonly kind: 'uniform' | 'gaussian'
  /** Half width of the uniform one, standard deviation of the Gaussian, ms. */
  readonly ms: number
}

export const jitterRms = ({ kind, ms }: JitterModel): number => (kind === 'uniform' ? ms / Math.sqrt(3) : ms)

export interface Train {
  /** The tempo the sender plays, from tick 0. */
  readonly truth: TempoMap
  readonly beats: number
  readonly jitter?: JitterModel
  readonly seed?: number
  /** True for pulses that never arrive, by their number from 0. */
  readonly lost?: (pulse: number) => boolean
  /** Ms after which a pulse arrives once more; 0 when it does not. */
  readonly doubled?: (pulse: number) => number
}

/** When the sender starts, on the clock that stamps the bytes (any number will do). */
const STARTED_AT = 1000

/** When (ms) the sender is at a tick, and where (ticks) it is at a time. */
export const trueTime = (truth: TempoMap, at: number): number =>
  STARTED_AT + secondsAt(truth, ticks(at)) * 1000
const truePlace = (truth: TempoMap, ms: number): number => ticksAt(truth, seconds((ms - STARTED_AT) / 1000))

/** A Start and the pulses after it, in order of arrival. */
export function train({ truth, beats, jitter, seed = 1, lost, doubled }: Train): MidiMessage[] {
  const next = random(seed)
  const messages: MidiMessage[] = []
  for (let pulse = 0; pulse < beats * 24; pulse++) {
    const off = jitter ? jitter.ms * (jitter.kind === 'uniform' ? 2 * next() - 1 : gaussian(next)) : 0
    const at = trueTime(truth, pulse * TICKS_PER_PULSE) + off
    if (lost?.(pulse)) continue
    messages.push({ type: 'clock', at })
    const again = doubled?.(pulse) ?? 0
    if (again > 0) messages.push({ type: 'clock', at: at + again })
  }
  messages.sort((a, b) => a.at - b.at)
  return [{ type: 'start', at: messages[0]!.at - 1 }, ...messages]
}

export interface Sample {
  readonly at: number
  readonly ticks: number
  /** How far the position given out is ahead of the truth, in ms of the sender's time and in beats. */
  readonly ms: number
  readonly beats: number
  readonly bpm: number
  readonly lock: string
}

/** Follows the messages and asks for the position every `every` ms from the first pulse to the last. */
export function sampled(
  messages: readonly MidiMessage[],
  prediction: Prediction,
  truth: TempoMap,
  every = 1,
): Sample[] {
  const samples: Sample[] = []
  const into = unknownPosition()
  let state: Follower = follower(ticks(0))
  let at = Math.ceil(messages[0]!.at + 1)
  for (const message of messages) {
    for (; at < message.at; at += every) {
      const { ticks: place, bpm, lock } = positionAt(state, prediction, at, into)
      samples.push({
        at,
        ticks: place,
        ms: trueTime(truth, place) - at,
        beats: (place - truePlace(truth, at)) / 960,
        bpm,
        lock,
      })
    }
    state = follow(state, prediction, message)
  }
  return samples
}

export interface PhaseError {
  readonly rms: number
  readonly worst: number
  readonly worstBeats: number
}

export function phaseError(samples: readonly Sample[]): PhaseError {
  let sum = 0
  let worst = 0
  let worstBeats = 0
  for (const { ms, beats } of samples) {
    sum += ms * ms
    worst = Math.max(worst, Math.abs(ms))
    worstBeats = Math.max(worstBeats, Math.abs(beats))
  }
  return { rms: Math.sqrt(sum / samples.length), worst, worstBeats }
}

/** Ms from `from` until the error is within `bound` ms and stays so to the end. */
export function timeToLock(samples: readonly Sample[], from: number, bound: number): number {
  const last = samples.findLast(sample => Math.abs(sample.ms) > bound)
  return last ? Math.max(0, last.at - from) : 0
}
