// A press on the transport of a song that stands: what becomes of the transport and of the place, or why it is refused.

import {
  type FrameTime,
  internalPosition,
  isCountedIn,
  located,
  released,
  started,
  stopped,
  type TransportState,
} from '@glowchart/shared/clock/transport.ts'
import { type Problem, problem } from '@glowchart/shared/errors.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import type { LoopTransport } from './loop-messages.ts'

export interface Pressed {
  readonly transport: TransportState
  /** Written position, ticks. */
  readonly position: Ticks
}

/** The presses that are about the song itself, not about its clock. */
export type SongPress = Exclude<LoopTransport, { do: 'speed' | 'clock' | 'nudge' }>

const clocks = { midi: 'MIDI clock', mtc: 'time code' } as const

/** What only the clock that is followed may do. `does`: "starts the song" */
export const follows = (source: keyof typeof clocks, does: string): Problem =>
  problem('transport.follows', `the ${clocks[source]} ${does}`, 'transport')

/** Problems: transport.follows, transport.place. */
export function pressed(
  press: SongPress,
  { transport, position }: Pressed,
  song: Timeline,
  now: FrameTime,
): Pressed | Problem {
  switch (press.do) {
    case 'play': {
      if (transport.source !== 'internal') return follows(transport.source, 'starts the song')
      if (transport.playing) return { transport, position }
      const next = started(transport, song, now, press.after)
      const there = isCountedIn(next, now.frame)
        ? next.rest
        : internalPosition(next, song.tempo, now.frame, now.rate)
      return { transport: next, position: there }
    }
    case 'stop':
      if (transport.source !== 'internal') return follows(transport.source, 'stops the song')
      return { transport: stopped(transport, position), position }
    case 'locate': {
      if (press.at > song.length)
        return problem('transport.place', `tick ${press.at} lies past the end of the song`, 'transport')
      const to = ticks(press.at)
      return { transport: located(transport, song, to, position, now), position: to }
    }
    case 'loop': {
      const { span } = press
      if (span && (span.to - span.from < 1 || span.to > song.length))
        return problem('transport.place', 'a loop needs a start and a later end inside the song', 'transport')
      const once = span?.once ? { once: true } : {}
      const loop = span && { from: ticks(span.from), to: ticks(span.to), ...once }
      return { transport: { ...transport, loop }, position }
    }
    case 'release':
      return { transport: released(transport, song, position), position }
  }
}
