// MIDI clock going out: which bytes are due until a time, from the transport alone.

import { secondsAt, type TempoMap, ticksAt } from '../time/tempo.ts'
import { type Seconds, TICKS_PER_PULSE, TICKS_PER_SONG_POSITION, type Ticks } from '../time/units.ts'

/** Where the song is: at `at` (ms) it is at `place`, and goes on at `speed` times its tempo while `playing`. */
export interface SongMotion {
  readonly playing: boolean
  readonly at: number
  readonly place: Ticks
  readonly speed: number
  readonly tempo: TempoMap
}

/** What the receivers have been told so far. */
export interface ClockSender {
  /** All that was due before this time (ms) has been given out. */
  readonly until: number
  readonly playing: boolean
  /** The next pulse to send, counted from the song's start. */
  readonly pulse: number
}

export const clockSender = (now: number): ClockSender => ({ until: now, playing: false, pulse: 0 })

export interface TimedBytes {
  readonly at: number
  readonly bytes: readonly number[]
}

const CLOCK = 0xf8
const START = 0xfa
const CONTINUE = 0xfb
const STOP = 0xfc
const SONG_POSITION = 0xf2
/** The last place Song Position can name: 14 bits of sixteenths (MIDI 1.0). */
const LAST_SIXTEENTH = 0x3fff

/** Song Position: least significant seven bits first (MIDI 1.0): 256 is F2 00 02. */
export const songPositionBytes = (sixteenths: number): readonly number[] => [
  SONG_POSITION,
  sixteenths & 0x7f,
  sixteenths >> 7,
]

/**
 * The bytes due before `until`, in order. A song that starts at 0 sends Start; one that starts elsewhere Song Position
 * and Continue, and its pulses begin at the next sixteenth, which is the finest place that Song Position can name. A
 * song moved while it plays is stopped and continued. Places too late to be named get pulses alone. Each pulse is
 * given out once, whatever the transport does to its tempo in between.
 */
export function clockDue(
  sender: ClockSender,
  motion: SongMotion,
  until: number,
): { sender: ClockSender; due: readonly TimedBytes[] } {
  const from = Math.max(sender.until, Math.min(motion.at, until))
  const due: TimedBytes[] = []
  if (!motion.playing) {
    if (sender.playing) due.push({ at: from, bytes: [STOP] })
    return { sender: { until, playing: false, pulse: sender.pulse }, due }
  }
  if (until <= motion.at && !sender.playing) return { sender: { ...sender, until }, due }
  const place = placeAt(motion, from)
  let { pulse } = sender
  if (!sender.playing || moved(pulse, place)) {
    if (sender.playing) due.push({ at: from, bytes: [STOP] })
    const sixteenth = Math.max(0, Math.ceil(place / TICKS_PER_SONG_POSITION - ROUNDING))
    if (sixteenth === 0) due.push({ at: from, bytes: [START] })
    else if (sixteenth <= LAST_SIXTEENTH) {
      due.push({ at: from, bytes: songPositionBytes(sixteenth) }, { at: from, bytes: [CONTINUE] })
    }
    pulse = (sixteenth * TICKS_PER_SONG_POSITION) / TICKS_PER_PULSE
  }
  for (;;) {
    const at = Math.max(from, timeOf(motion, pulse * TICKS_PER_PULSE))
    if (at >= until) break
    due.push({ at, bytes: [CLOCK] })
    pulse++
  }
  return { sender: { until, playing: true, pulse }, due }
}

/** What a float loses on the way from ticks to seconds and back; far below a tick. */
const ROUNDING = 1e-7

/** True when the pulse to send next does not belong to the place: it is up to a sixteenth ahead, or just due. */
function moved(pulse: number, place: number): boolean {
  const ahead = pulse * TICKS_PER_PULSE - place
  return ahead < -TICKS_PER_PULSE || ahead > TICKS_PER_SONG_POSITION + 1
}

/** Where a song that moves is at a time, ticks. */
export function placeAt({ tempo, place, at, speed }: SongMotion, time: number): number {
  return ticksAt(tempo, (secondsAt(tempo, place) + ((time - at) * speed) / 1000) as Seconds)
}

function timeOf({ tempo, place, at, speed }: SongMotion, ticks: number): number {
  return at + ((secondsAt(tempo, ticks as Ticks) - secondsAt(tempo, place)) * 1000) / speed
}
