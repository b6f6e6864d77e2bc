// The MIDI clock follower: a pure step from one timestamped message to the next state of the song's position.

import { TICKS_PER_PULSE, TICKS_PER_SONG_POSITION, type Ticks } from '../time/units.ts'
import { type Follower, type Prediction, placeAfter, songBpm, songMs } from './follower-state.ts'
import type { MidiMessage } from './parser.ts'
import { lineAt, rescaled } from './phase-filter.ts'
import { placeAt } from './position.ts'
import { pulsed, settled, slewedFrom } from './pulses.ts'

/** Starts within this many ms are one song start, and the last of them is the origin. */
const ONE_START_MS = 100

/**
 * Takes one message. Clock, Start, Continue, Stop and Song Position act; others change nothing. A time before one
 * already seen counts as that one; a time that is no number is not heard.
 *
 * The position moves on the pulse: the first after Start is position 0, pulse n is at 40n ticks, and between pulses
 * the song goes on at the tempo followed. Start and Continue wait for their first pulse; Stop holds; Song Position
 * (in sixteenths) is where the next Continue goes on. Lost pulses: the song goes on at the last tempo.
 */
export function follow(state: Follower, prediction: Prediction, message: MidiMessage): Follower {
  if (!Number.isFinite(message.at)) return state
  const at = Math.max(message.at, state.now)
  switch (message.type) {
    case 'clock':
      return pulsed({ ...state, now: at }, prediction, at)
    case 'start':
      return started({ ...state, now: at }, at)
    case 'continue':
      return continued({ ...state, now: at })
    case 'stop':
      return stopped({ ...state, now: at }, prediction, at)
    case 'songPosition':
      return sentTo({ ...state, now: at }, message.sixteenths * TICKS_PER_SONG_POSITION)
    default:
      return state
  }
}

function started(state: Follower, at: number): Follower {
  const again = state.startedAt !== null && at - state.startedAt <= ONE_START_MS
  return {
    ...relocated(state, 0),
    mode: 'armed',
    estimated: false,
    startedAt: at,
    starts: again ? state.starts : state.starts + 1,
  }
}

function continued(state: Follower): Follower {
  if (state.pending !== null) return { ...relocated(state, state.pending), mode: 'armed', estimated: false }
  return state.mode === 'stopped' ? { ...state, mode: 'armed' } : state
}

function stopped(state: Follower, prediction: Prediction, at: number): Follower {
  if (state.mode !== 'running') return { ...state, mode: 'stopped' }
  const held = placeAt(state, prediction, at)
  const last = settled(state, prediction, at)
  return { ...last, mode: 'stopped', held, next: last.pulse + TICKS_PER_PULSE }
}

function sentTo(state: Follower, place: number): Follower {
  if (state.mode === 'running') return { ...state, pending: place }
  return { ...relocated(state, place), mode: state.estimated ? 'stopped' : state.mode, estimated: false }
}

function relocated(state: Follower, place: number): Follower {
  return { ...state, held: place, next: place, pending: null, relocations: state.relocations + 1 }
}

/**
 * The same place and tempo under another prediction, from a time on: the song was edited or changed, or has jumped
 * (`shift`). While it runs, the ratio to the song's tempo stays; while it does not, the tempo of the clock itself.
 */
export function repredicted(state: Follower, from: Prediction, to: Prediction, time: number): Follower {
  if (state.mode !== 'running') {
    return { ...state, filter: rescaled(state.filter, songBpm(from, state.held) / songBpm(to, state.held)) }
  }
  const at = Math.max(time, state.now)
  const sure = settled(state, from, at)
  const { filter } = sure
  const line = songMs(to, sure.pulse, placeAfter(from, sure.pulse, lineAt(filter, at)))
  const phase = line - filter.ratio * (at - filter.at)
  const place = placeAt(sure, from, at)
  return slewedFrom(place, { ...sure, now: at, filter: { ...filter, phase } }, to, at)
}

/** Somebody has said where the song is: what the pulses alone could only guess. */
export const told = (state: Follower): Follower => (state.estimated ? { ...state, estimated: false } : state)

/**
 * The song is set to another place by hand, and goes on from there with the next pulse if it ran or if nothing has
 * said otherwise. The tempo of the clock stays.
 */
export function placed(state: Follower, prediction: Prediction, place: Ticks): Follower {
  const factor = songBpm(prediction, state.held) / songBpm(prediction, place)
  return {
    ...relocated(state, place),
    mode: state.mode === 'running' ? 'armed' : state.mode,
    doubt: null,
    filter: state.mode === 'running' ? state.filter : rescaled(state.filter, factor),
  }
}
