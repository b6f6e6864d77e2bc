// Tempo and meter signs of a line: what holds at its start if it is new there, and what changes on the way.

import type { Meter } from '@glowchart/shared/show/song.ts'
import { bpmAt, type TempoSegment } from '@glowchart/shared/time/tempo.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { barsInto, type Line, lineEnd, lineStart } from './lines.ts'

/** A sign at so many bars from the line's start. */
export interface TempoSign {
  readonly at: number
  /** A new tempo, or the word for a glide. */
  readonly says: { readonly bpm: number } | { readonly word: 'rit.' | 'accel.' }
}

export interface MeterSign {
  readonly at: number
  readonly meter: Meter
}

export function tempoSignsOf(timeline: Timeline, line: Line): TempoSign[] {
  return timeline.tempo.flatMap((segment, i) => {
    if (i === 0 || segment.at < lineStart(line) || segment.at >= lineEnd(line)) return []
    const says = sayingOf(timeline, segment)
    return says ? [{ at: barsInto(line, segment.at), says }] : []
  })
}

function sayingOf(timeline: Timeline, segment: TempoSegment): TempoSign['says'] | null {
  if (segment.slope !== 0) return { word: segment.slope < 0 ? 'rit.' : 'accel.' }
  const before = bpmAt(timeline.tempo, ticks(segment.at - 1))
  return Math.abs(before - segment.bpm) > 0.2 ? { bpm: segment.bpm } : null
}

export function meterSignsOf(timeline: Timeline, line: Line): MeterSign[] {
  return timeline.meters.flatMap((segment, i) => {
    const before = timeline.meters[i - 1]?.meter
    const same = before?.beats === segment.meter.beats && before.unit === segment.meter.unit
    if (same || segment.at < lineStart(line) || segment.at >= lineEnd(line)) return []
    return [{ at: barsInto(line, segment.at), meter: segment.meter }]
  })
}

/** A tempo as it is read: without a fraction when it has none. */
export const bpmName = (bpm: number): string =>
  Math.abs(bpm - Math.round(bpm)) < 0.05 ? `${Math.round(bpm)}` : bpm.toFixed(1)
