// The conductor: on a set that lies on one timeline, the clock chooses the song; what it chooses acts before its bytes.

import { clockBytes } from '@glowchart/shared/clock/clock-bytes.ts'
import { follow, placed, told } from '@glowchart/shared/clock/follower.ts'
import { type Follower, follower as freshFollower } from '@glowchart/shared/clock/follower-state.ts'
import {
  followMtc,
  type MtcFollower,
  mtcFollower,
  mtcSecondsAt,
} from '@glowchart/shared/clock/mtc-follower.ts'
import type { MidiMessage } from '@glowchart/shared/clock/parser.ts'
import { songPositionBytes } from '@glowchart/shared/clock/sender.ts'
import type { TimecodeRate } from '@glowchart/shared/clock/timecode.ts'
import type { Transport } from '@glowchart/shared/messages.ts'
import { type Standing, stepAt, stepsOf } from '@glowchart/shared/set/steps.ts'
import {
  positionSpans,
  type SetSpan,
  setTempo,
  type Target,
  targetAt,
  timecodeSpans,
} from '@glowchart/shared/set/timeline.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { TempoMap } from '@glowchart/shared/time/tempo.ts'
import { TICKS_PER_PULSE, TICKS_PER_SONG_POSITION, ticks } from '@glowchart/shared/time/units.ts'
import type { LoopStatus } from './loop-messages.ts'

export type Choice = Extract<Transport, { do: 'song' | 'look' }>

/** What the conductor needs to know of the song that stands. */
export type Situation = Pick<LoopStatus, 'song' | 'place' | 'playing' | 'position' | 'repeated' | 'clock'>

export interface Conducting {
  /** The show and where it is; null before there is any. */
  now(): { show: Show; situation: Situation } | null
  /** What stands in the engine, and its place in the set: without delay. */
  standing(): Standing
  choose(choice: Choice): void
  /** Bytes for the follower of the song that stands. */
  pass(bytes: readonly number[], at: number): void
}

export interface Conductor {
  /** One message of the clock's port. */
  hear(message: MidiMessage): void
  /** How far the clock has come since a Start that is at most 100 ms old, ticks: a song chosen now begins there. */
  sinceStart(at: number): number
}

/** On time code a song is made ready so long before its start (s), so that its first frame is in time. */
const AHEAD = 1
/** A song that is named so soon after the Start was meant by it, ms: as with two Starts, which are one. */
const ONE_START_MS = 100

export function createConductor(work: Conducting): Conductor {
  let mtc: MtcFollower = mtcFollower
  let pulses: Follower = freshFollower(ticks(0))
  /** What was chosen last by itself: it is chosen once, and a hand may choose otherwise. */
  let last: number | null = null
  /** On MIDI clock, no song lies where the set is: the song's follower was told to stand. */
  let holds = false
  let laid: { show: Show; rate: TimecodeRate; code: SetSpan[]; clock: SetSpan[]; tempo: TempoMap } | null =
    null

  const layOut = (show: Show) => {
    if (laid?.show !== show || laid.rate !== mtc.rate) {
      const clock = positionSpans(show)
      const tempo = setTempo(show, clock)
      laid = { show, rate: mtc.rate, code: timecodeSpans(show, mtc.rate), clock, tempo }
    }
    return laid
  }

  const isThere = (show: Show, { place }: Target): boolean => {
    return stepAt(stepsOf(show), work.standing()) === place
  }
  /** Told once; what a hand chooses afterwards stands until the clock comes to something else. */
  const isNew = ({ place }: Target): boolean => {
    const is = place !== last
    last = place
    return is
  }
  const choose = (show: Show, { place, span }: Target, at: number): void => {
    const step = stepsOf(show)[place]!
    if (step.kind === 'look') work.choose({ do: 'look', look: step.look, place })
    else if (span) work.choose({ do: 'song', song: step.song, at, place })
  }

  function onTimecode(message: MidiMessage, show: Show, sounds: boolean): void {
    const { relocations } = mtc
    mtc = followMtc(mtc, message)
    if (mtc.relocations !== relocations) last = null
    const { code } = layOut(show)
    if (mtc.mode !== 'unknown' && code.length > 0) {
      const target = targetAt(show, code, mtcSecondsAt(mtc, message.at), { ahead: AHEAD, sounds })
      // The song's own follower knows where in it the time is.
      if (target && isNew(target) && !isThere(show, target)) choose(show, target, 0)
    }
    passOn(message)
  }

  /** MIDI clock tells places in the set; the song's follower is told them from the song's own start. */
  function onClock(message: MidiMessage, show: Show, situation: Situation): void {
    const { clock, tempo } = layOut(show)
    const prediction = { tempo, shift: 0 }
    if (pulses.estimated && situation.playing) takeUp(clock, situation, prediction)
    const { relocations } = pulses
    pulses = follow(pulses, prediction, message)
    const isMoved = pulses.relocations !== relocations
    if (isMoved) last = null
    if (pulses.estimated) return passOn(message)
    const place = pulses.mode === 'running' ? pulses.pulse : pulses.next
    const target = targetAt(show, clock, place, { ahead: 0, sounds: situation.playing && !isMoved })
    const into = target?.span ? place - target.span.start : 0
    switch (message.type) {
      case 'clock':
        if (target && isNew(target)) {
          choose(show, target, into)
          if (holds && target.span) {
            holds = false
            work.pass([0xfb], message.at)
          }
        }
        return passOn(message)
      case 'start':
      case 'songPosition':
      case 'continue': {
        // A place that is named while the song runs waits for its Continue.
        if (message.type === 'songPosition' && !isMoved) return
        if (isMoved) {
          if (target && isNew(target) && !isThere(show, target)) choose(show, target, 0)
          holds = !target?.span
          if (holds) work.pass([0xfc], message.at)
          work.pass(songPositionBytes(Math.floor(into / TICKS_PER_SONG_POSITION)), message.at)
        }
        // A Start that is past the song's own start is a Continue to it.
        if (message.type !== 'songPosition' && !holds)
          work.pass([message.type === 'start' && into === 0 ? 0xfa : 0xfb], message.at)
        return
      }
      default:
        passOn(message)
    }
  }

  /** After a restart, or when a hand has said where an estimated song is, the set is where the song is. */
  function takeUp(clock: readonly SetSpan[], now: Situation, prediction: { tempo: TempoMap; shift: number }) {
    const span = clock.find(one => one.place === now.place && one.song === now.song)
    if (!span || now.repeated || now.clock.estimated) return
    const pulse = Math.round(now.position / TICKS_PER_PULSE) * TICKS_PER_PULSE
    pulses = told(placed(pulses, prediction, ticks(span.start + pulse)))
    last = span.place
  }

  function passOn(message: MidiMessage): void {
    const bytes = clockBytes(message)
    if (bytes) work.pass(bytes, message.at)
  }

  return {
    hear(message) {
      const now = work.now()
      if (!now) return passOn(message)
      const { show, situation } = now
      const { source } = situation.clock
      if (source === 'mtc') return onTimecode(message, show, situation.playing)
      if (source === 'midi' && layOut(show).clock.length > 0) return onClock(message, show, situation)
      // Without a timeline it is counted only how far a Start is past.
      pulses = follow(pulses, { tempo: NO_TEMPO, shift: 0 }, message)
      passOn(message)
    },
    sinceStart(at) {
      const { startedAt, mode, pulse } = pulses
      if (startedAt === null || at - startedAt > ONE_START_MS || mode !== 'running') return 0
      return pulse + TICKS_PER_PULSE
    },
  }
}

const NO_TEMPO: TempoMap = [{ at: ticks(0), seconds: 0 as never, bpm: 120, slope: 0 }]
