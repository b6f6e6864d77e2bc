// A sequencer on another machine: plays a song's tempo as MIDI bytes in real time, each stamped with when it was due.

import type { EngineLink } from '@glowchart/server/app/engine-link.ts'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { secondsAt, type TempoMap, ticksAt } from '@glowchart/shared/time/tempo.ts'
import { seconds, TICKS_PER_PULSE, TICKS_PER_SONG_POSITION, ticks } from '@glowchart/shared/time/units.ts'
import { gaussian, random } from '../support/random.ts'

export interface Timed {
  /** Ms of the engine's clock. */
  at: number
  bytes: number[]
}

/** MIDI 1.0: timing clock, start, continue, stop; song position in sixteenths, low seven bits first. */
const CLOCK = 0xf8
export const [START, CONTINUE, STOP] = [0xfa, 0xfb, 0xfc] as const
export const songPosition = (place: number): number[] => {
  const sixteenths = Math.round(place / TICKS_PER_SONG_POSITION)
  return [0xf2, sixteenths & 127, sixteenths >> 7]
}

/** A stretch of a sequencer's playing: at `at` (ms) it stood at `place` (ticks), at `speed` times the song's tempo. */
export interface Playing {
  tempo: TempoMap
  place: number
  at: number
  speed?: number
}

/** Where it is at a time, ticks; before it began it stands. */
export const placeOf = ({ tempo, place, at, speed = 1 }: Playing, time: number): number =>
  ticksAt(tempo, seconds(secondsAt(tempo, ticks(place)) + Math.max(0, (time - at) * speed) / 1000))

/** When it is at a place, ms. */
export const timeOf = ({ tempo, place, at, speed = 1 }: Playing, where: number): number =>
  at + ((secondsAt(tempo, ticks(where)) - secondsAt(tempo, ticks(place))) * 1000) / speed

/** Standard deviation of when a pulse arrives, ms: a USB interface adds about its 1 ms frame (Schultz 2019, doi 10.3758/s13428-018-1042-7). */
const JITTER = 1

/** Its pulses from where it stood, until a time (ms), each a little early or late, never in another order. */
export function pulses(playing: Playing, until: number): Timed[] {
  const all: Timed[] = []
  const next = random(playing.place + 1)
  for (let place = Math.ceil(playing.place / TICKS_PER_PULSE) * TICKS_PER_PULSE; ; place += TICKS_PER_PULSE) {
    const at = timeOf(playing, place)
    if (at >= until) return all
    all.push({ at: at + Math.max(-3, Math.min(3, gaussian(next))) * JITTER, bytes: [CLOCK] })
  }
}

/** How often it looks for what is due, ms: a port reports at least as promptly. */
const LOOK = 2

/** Gives the engine each byte when it is due; resolves when the last is given. */
export async function playMidi(link: EngineLink, timed: readonly Timed[]): Promise<void> {
  const due = [...timed].sort((a, b) => a.at - b.at)
  let next = 0
  await new Promise<void>(resolve => {
    const look = setInterval(() => {
      for (let one = due[next]; one && one.at <= monotonicMs(); one = due[++next]) {
        link.send({ type: 'midi', midi: { port: 'Drill sequencer', at: one.at, bytes: one.bytes } })
      }
      if (next < due.length) return
      clearInterval(look)
      resolve()
    }, LOOK)
  })
}
