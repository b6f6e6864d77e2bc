// What measuring a song gives: its flash meter, its currents, and where the venue's limit held its strobes.

import type { BoxPeak } from '../../power/meter.ts'
import type { Stage } from '../../rig/stage.ts'
import type { Show } from '../../show/schema.ts'
import { ticksAt } from '../../time/tempo.ts'
import type { Timeline } from '../../time/timeline.ts'
import type { Seconds, Ticks } from '../../time/units.ts'
import type { FlashMeter } from './meter.ts'
import type { Scope } from './scopes.ts'

/** Frames from…to (both included) in which the venue's limit made a strobe steady. */
export interface HeldSpan {
  readonly from: number
  readonly to: number
}

/** A song whose every frame has gone through a meter. */
export interface MeasuredSong {
  readonly show: Show
  readonly song: string
  readonly kit: string
  readonly stage: Stage
  readonly timeline: Timeline
  /** Frames a second; frame n lies n / rate seconds after the song's start. */
  readonly rate: number
  readonly scopes: readonly Scope[]
  /** One signal a scope. */
  readonly meter: FlashMeter
  readonly held: readonly HeldSpan[]
  /** The currents of tonight's boxes. */
  readonly peaks: readonly BoxPeak[]
}

/**
 * Where in the song it happens that some frames show: a change comes as late as the end of the first frame that shows it,
 * and as early as the frame before the last. So a cue that begins with a bar, inside a frame, is not told a bar early.
 */
export function framesSpan(
  { timeline, rate }: Pick<MeasuredSong, 'timeline' | 'rate'>,
  { from, to }: HeldSpan,
): { from: Ticks; to: Ticks } {
  const at = (frame: number): number => ticksAt(timeline.tempo, (frame / rate) as Seconds)
  const begins = Math.ceil(at(from + 1)) - 1
  return { from: begins as Ticks, to: Math.max(begins + 1, Math.floor(at(to - 1)) + 1) as Ticks }
}
