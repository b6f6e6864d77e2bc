// Taps and what they become: raw times while they are played, cues on the grid once they are kept.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import { secondsAt, ticksAt } from '@glowchart/shared/time/tempo.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { type Seconds, ticks } from '@glowchart/shared/time/units.ts'
import { type Grid, gridStep, onGrid } from '../chart/snap.ts'
import { homeOf, lastLight, trackOf } from '../chart/written.ts'
import type { Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import type { ViewedSong } from '../document/viewed.ts'

/** What a tap drops: a cue on a part, or a look, one cue on each part it has. */
export interface Target {
  readonly kind: 'part' | 'look'
  readonly id: string
}

/** A tap as it was played: written ticks with their fraction, ms held (null while it is). */
export interface Tap {
  readonly id: number
  readonly target: Target
  readonly at: number
  readonly to: number | null
  readonly held: number | null
}

/** A tap held shorter than this is a hit, ms. */
const HIT = 200

/** Where a tap that is over ends. A song that jumped back meanwhile is taken to have gone on. */
export function endOf(timeline: Timeline, at: number, position: number | null, held: number): number {
  if (position !== null && position > at) return position
  const from = secondsAt(timeline.tempo, ticks(at))
  return ticksAt(timeline.tempo, (from + held / 1000) as Seconds)
}

interface Placed {
  readonly target: Target
  readonly at: number
  readonly length: number
  readonly hit: boolean
}

/** Taps on the grid in order of time: one a place and target, none over the start of the next. */
export function placedTaps(timeline: Timeline, taps: readonly Tap[], grid: Grid): Placed[] {
  const { meters, length: end } = timeline
  const placed = taps.flatMap((tap): Placed[] => {
    const at = Math.max(0, onGrid(meters, tap.at, grid))
    if (at >= end) return []
    const step = gridStep(meters, at, grid)
    const hit = tap.held !== null && tap.held < HIT
    const to = hit || tap.to === null ? at + step : Math.max(at + step, onGrid(meters, tap.to, grid))
    return [{ target: tap.target, at, length: Math.min(to, end) - at, hit }]
  })
  placed.sort((a, b) => a.at - b.at)
  return placed.flatMap((one, i): Placed[] => {
    const next = placed.slice(i + 1).find(other => isSame(other.target, one.target))
    if (!next) return [one]
    return next.at === one.at ? [] : [{ ...one, length: Math.min(one.length, next.at - one.at) }]
  })
}

const isSame = (a: Target, b: Target): boolean => a.kind === b.kind && a.id === b.id

/** The edits that write taps: cues in the part's last colours and motion, or in the look; hits fade out. */
export function tapEdits(show: Show, viewed: ViewedSong, taps: readonly Tap[], grid: Grid): Told[] {
  const tracks = new Map<string, string>()
  const edits: Told[] = []
  const bySection = new Map<string, Record<string, Cue>>()
  for (const { target, at, length, hit } of placedTaps(viewed.timeline, taps, grid)) {
    const parts = target.kind === 'part' ? [target.id] : Object.keys(show.looks[target.id]?.parts ?? {})
    for (const part of parts) {
      if (!tracks.has(part)) {
        const found = trackOf(viewed, part)
        tracks.set(part, found.track)
        edits.push(...found.edits)
      }
      const track = tracks.get(part)!
      const { section, start } = homeOf(viewed, at, track)
      const cues = bySection.get(section) ?? {}
      cues[newId('cue')] = {
        track,
        at: ticks(at - start),
        length: ticks(length),
        origin: ticks(0),
        ...(hit && { fadeOut: { length: ticks(length), curve: 'even' as const, cut: ticks(0) } }),
        light:
          target.kind === 'look' ? { look: target.id } : (lastLight(show, viewed, part, at) as Cue['light']),
      }
      bySection.set(section, cues)
    }
  }
  for (const [section, cues] of bySection) edits.push(['addCues', { song: viewed.id, section, cues }])
  return edits
}
