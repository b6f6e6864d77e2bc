// Written and played position: what repeats (a loop, a vamp) do to a position that moves on.

import type { SectionSpan } from './timeline.ts'
import type { Ticks } from './units.ts'

/** `written`: ticks on the chart. `played`: ticks that have gone by. They part at the first jump. */
export interface Position {
  readonly written: Ticks
  readonly played: Ticks
}

/** A jump on the chart: at `at` played ticks the written position went from `from` to `to`. */
export interface Jump {
  readonly at: Ticks
  readonly from: Ticks
  readonly to: Ticks
}

/** What a position repeats on its way. */
export interface Repeats {
  /** Repeats [from, to) once the position is before `to`; ignored when shorter than a tick. */
  readonly loop: { readonly from: Ticks; readonly to: Ticks } | null
  /** The song's sections; those that vamp repeat. */
  readonly sections: readonly SectionSpan[]
  /** Id of the vamp that has been released: it is left at its next end. */
  readonly released: string | null
}

/** Where `advance` arrived, the jumps on the way, and the release if it still waits for its section's end. */
export interface Advance {
  readonly position: Position
  readonly jumps: readonly Jump[]
  readonly released: string | null
}

interface Repeat {
  readonly from: Ticks
  readonly to: Ticks
}

/**
 * Moves a position on by `delta` ticks (0 or more, fractions included), back to the start of a loop or vamp each time
 * it reaches the end. A loop and a vamp that end on one tick: the loop takes it. Each wrap takes a whole length off the
 * target, which is exact where the repeat lies on whole ticks: no error grows with the number of wraps.
 */
export function advance(position: Position, delta: Ticks, repeats: Repeats): Advance {
  const played = position.played + delta
  const jumps: Jump[] = []
  let { released } = repeats
  let written: number = position.written
  let target = written + delta
  for (;;) {
    const repeat = nextRepeat(written, repeats, released)
    const reached = repeat ? Math.min(target, repeat.to) : target
    if (released !== null && endsWithin(repeats.sections, released, written, reached)) released = null
    if (!repeat || target < repeat.to) break
    jumps.push({ at: (played - (target - repeat.to)) as Ticks, from: repeat.to, to: repeat.from })
    target -= repeat.to - repeat.from
    written = repeat.from
  }
  return { position: { written: target as Ticks, played: played as Ticks }, jumps, released }
}

/** The repeat whose end comes first after a written position. */
function nextRepeat(written: number, { loop, sections }: Repeats, released: string | null): Repeat | null {
  let next: Repeat | null = loop && loop.to - loop.from >= 1 && loop.to > written ? loop : null
  for (const { id, vamp, start, end } of sections) {
    if (vamp && id !== released && end > written && (!next || end < next.to)) next = { from: start, to: end }
  }
  return next
}

function endsWithin(sections: readonly SectionSpan[], id: string, after: number, upTo: number): boolean {
  return sections.some(s => s.id === id && after < s.end && s.end <= upTo)
}

/** The written position at a played one, over jumps in the order they were made; on the tick of a jump, after it. */
export function writtenAt(jumps: readonly Jump[], played: Ticks): Ticks {
  const last = jumps.findLast(jump => jump.at <= played)
  return (last ? last.to + (played - last.at) : played) as Ticks
}

/** The played position at which a written one came (or will come) last; null when the jumps have passed it by. */
export function playedAt(jumps: readonly Jump[], written: Ticks): Ticks | null {
  for (let i = jumps.length - 1; i >= 0; i--) {
    const { at, to } = jumps[i]!
    const leftAt = jumps[i + 1]?.from ?? Number.POSITIVE_INFINITY
    if (to <= written && written < leftAt) return (at + (written - to)) as Ticks
  }
  const first = jumps[0]
  return !first || written < first.from ? written : null
}
