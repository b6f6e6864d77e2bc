// Frames that were late or left out, told in stretches, and a wall clock that jumped: the laptop slept, or was set.

import type { EngineStatus } from '../messages.ts'
import type { NightEvent } from './event.ts'

type Said = Pick<NightEvent, 'kind' | 'says'> & { readonly fault?: boolean }

export interface Lapse {
  /** When the stretch began, ms since 1970, and the counts then; null before the first status. */
  readonly from: { readonly at: number; readonly late: number; readonly skipped: number } | null
  /** Wall clock less the engine's, ms; null before the first status. */
  readonly offset: number | null
}

export const freshLapse: Lapse = { from: null, offset: null }

/** Frames are told once a stretch of so long, ms: a bad minute is six lines and not two thousand. */
const STRETCH = 10_000
/** So many late ones in a stretch are worth a line; one that was left out always is. Common practice, no source. */
const LATE = 5
/** A wall clock that drifts less between two looks is being steered, ms. */
const STEERED = 2000

export function lapsed(
  lapse: Lapse,
  before: EngineStatus | null,
  status: EngineStatus,
  now: number,
): { lapse: Lapse; said: Said[] } {
  const said: Said[] = []
  const { late, skipped } = status.frames
  // A new engine counts from the start.
  const isNew = before === null || before.pid !== status.pid
  const fresh = { at: now, late, skipped }
  let from = isNew ? fresh : (lapse.from ?? fresh)
  if (now - from.at >= STRETCH || now < from.at) {
    const [lateOnes, left] = [late - from.late, skipped - from.skipped]
    if (left > 0 || lateOnes > LATE) {
      said.push({
        kind: 'frames',
        says: `${lateOnes} frames late and ${left} left out within ${Math.round(STRETCH / 1000)} s.`,
        fault: true,
      })
    }
    from = fresh
  }
  const offset = now - status.at
  const jumped = lapse.offset === null || isNew ? 0 : offset - lapse.offset
  if (Math.abs(jumped) > STEERED) {
    const seconds = Math.round(Math.abs(jumped) / 1000)
    said.push({
      kind: 'time',
      says:
        jumped > 0
          ? `The time of day went ${seconds} s ahead: this laptop slept, or its clock was set.`
          : `The time of day went ${seconds} s back: the clock of this laptop was set.`,
      fault: true,
    })
  }
  return { lapse: { from, offset }, said }
}
