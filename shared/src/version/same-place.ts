// One song in two layouts: where a place of the one lies in the other, by section.

import { type SectionSpan, sectionAt, type Timeline } from '../time/timeline.ts'
import { ticks } from '../time/units.ts'

export interface SamePlace {
  /** Ticks from the song's start: the same place, or where the song next is in both. */
  readonly at: number
  /** Whether there is such a place. */
  readonly there: boolean
}

/**
 * As far into the section with the same id, which may stand elsewhere in the song; the end is the end. A section that
 * the other layout has not, or has shorter, has no such place.
 * @param at written position, ticks from the song's start, 0 or more
 */
export function samePlace(from: Timeline, to: Timeline, at: number): SamePlace {
  if (from === to) return { at, there: true }
  const section = sectionAt(from, ticks(at))
  if (!section) return { at: to.length, there: true }
  const twin = twinOf(section, to)
  const into = at - section.start
  if (twin && into < twin.end - twin.start) return { at: twin.start + into, there: true }
  const next = from.sections.slice(section.index + 1).find(later => twinOf(later, to))
  return { at: twin?.end ?? (next ? twinOf(next, to)!.start : to.length), there: false }
}

/** The same span, [from, to) in ticks; null where its first or its last tick has no place. */
export function sameSpan(
  from: Timeline,
  to: Timeline,
  span: { readonly from: number; readonly to: number },
): { from: number; to: number } | null {
  const [first, last] = [samePlace(from, to, span.from), samePlace(from, to, span.to - 1)]
  return first.there && last.there && first.at <= last.at ? { from: first.at, to: last.at + 1 } : null
}

const twinOf = ({ id }: SectionSpan, { sections }: Timeline): SectionSpan | undefined =>
  sections.find(section => section.id === id)
