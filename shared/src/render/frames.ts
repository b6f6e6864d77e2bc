// The frames of a song away from the stage: they lie on multiples of the period from its start.

import { secondsAt, ticksAt } from '../time/tempo.ts'
import type { Seconds, Ticks } from '../time/units.ts'
import type { CompiledSong } from './compiled.ts'

/** Part of a period by which a frame may seem late and still begin at a position. */
const SAME = 1e-6

/**
 * The interval [from, to) in ticks that frame `n` (0 at the song's start) stands for at `rate` frames a second, its
 * times found by division, never by adding up.
 */
export function frameSpan(song: CompiledSong, n: number, rate: number): { from: Ticks; to: Ticks } {
  const { tempo } = song.timeline
  return { from: ticksAt(tempo, (n / rate) as Seconds), to: ticksAt(tempo, ((n + 1) / rate) as Seconds) }
}

/** The first frame (0 or later) that begins at a position in ticks, or after it. */
export function frameFrom(song: CompiledSong, at: Ticks, rate: number): number {
  return Math.max(0, Math.ceil(secondsAt(song.timeline.tempo, at) * rate - SAME))
}
