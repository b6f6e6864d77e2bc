// Points of a level: in ticks from the cue's start, level 0…1, in order of time; the level runs straight between them.

import type { Level } from '@glowchart/shared/light/schema.ts'
import { ticks } from '@glowchart/shared/time/units.ts'

export type Points = Exclude<Level, number>

/** Most points that a level may have. */
const MOST = 256

/** The points of a level in order; one that is constant has them at the cue's ends. */
export const pointsOf = (level: Level, length: number): Points =>
  typeof level === 'number'
    ? [
        { at: ticks(0), level },
        { at: ticks(length), level },
      ]
    : [...level].sort((a, b) => a.at - b.at)

/** The level at a place, in ticks from the cue's start. */
export function levelAt(points: Points, at: number): number {
  const after = points.findIndex(point => point.at > at)
  if (after === 0) return points[0]!.level
  const from = points.at(after === -1 ? -1 : after - 1)!
  const to = points[after] ?? from
  return to === from
    ? from.level
    : from.level + ((at - from.at) / (to.at - from.at)) * (to.level - from.level)
}

const rounded = (level: number): number => Math.round(Math.min(1, Math.max(0, level)) * 1000) / 1000

/** A point put somewhere else, no further than its neighbours. */
export function moved(points: Points, i: number, at: number, level: number): Points {
  const least = (points[i - 1]?.at ?? Number.NEGATIVE_INFINITY) + 1
  const most = (points[i + 1]?.at ?? Number.POSITIVE_INFINITY) - 1
  const held = ticks(Math.round(Math.max(least, Math.min(most, at))))
  return points.map((point, n) => (n === i ? { at: held, level: rounded(level) } : point))
}

/** A point more, on the line as it is; null where one is already, or where there are too many. */
export function withMore(points: Points, at: number): { points: Points; at: number } | null {
  if (points.length >= MOST || points.some(point => point.at === at)) return null
  const before = points.filter(point => point.at < at)
  const more = { at: ticks(at), level: rounded(levelAt(points, at)) }
  return { points: [...before, more, ...points.slice(before.length)], at: before.length }
}

/** A point less; the last one leaves its level. */
export function without(points: Points, i: number): Level {
  const rest = points.filter((_, n) => n !== i)
  if (rest.length === 0) return points[0]!.level
  return rest.length === 1 ? rest[0]!.level : rest
}

/** Its brightest. */
export const peakOf = (level: Level): number =>
  typeof level === 'number' ? level : Math.max(...level.map(point => point.level))

/** The same level under another peak: points keep their proportions. */
export function levelled(level: Level, to: number): Level {
  if (typeof level === 'number') return to
  const peak = peakOf(level)
  return peak === 0 ? to : level.map(point => ({ ...point, level: (point.level / peak) * to }))
}
