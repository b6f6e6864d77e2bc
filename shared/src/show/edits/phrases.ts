// What cuts, and time put in or taken out, do to the phrases of a section's score: the pattern goes on where it was.

import type { Ticks } from '../../time/units.ts'
import type { Phrase } from '../song.ts'

type Score = readonly Phrase[] | undefined

/** Ticks put in at a place: what comes after moves; a phrase across it plays on through the new time. */
export const scoreWithTime = (score: Score, at: number, ticks: number): Phrase[] | undefined =>
  score?.flatMap(phrase => {
    if (phrase.at >= at) return [moved(phrase, ticks)]
    const [before, after] = cut(phrase, at)
    return after ? [{ ...before!, length: (before!.length + ticks) as Ticks }, moved(after, ticks)] : [phrase]
  })

/** Ticks [from, to) taken out. */
export const scoreWithoutTime = (score: Score, from: number, to: number): Phrase[] | undefined =>
  score?.flatMap(phrase => {
    const [before, rest] = cut(phrase, from)
    const after = rest && cut(rest, to)[1]
    return [...(before ? [before] : []), ...(after ? [moved(after, from - to)] : [])]
  })

/** The score of a section cut to this length. */
export const scoreWithin = (score: Score, length: number): Phrase[] | undefined =>
  score?.flatMap(phrase => cut(phrase, length)[0] ?? [])

const moved = (phrase: Phrase, by: number): Phrase => ({ ...phrase, at: (phrase.at + by) as Ticks })

/** What lies before and after a tick of the section. */
function cut(phrase: Phrase, at: number): [Phrase | null, Phrase | null] {
  const offset = at - phrase.at
  if (offset <= 0) return [null, phrase]
  if (offset >= phrase.length) return [phrase, null]
  const after: Phrase = {
    ...phrase,
    at: at as Ticks,
    length: (phrase.length - offset) as Ticks,
    // Whole patterns say nothing: the same place in the pattern has one spelling.
    origin: (((phrase.origin - offset) % phrase.every) | 0) as Ticks,
  }
  return [{ ...phrase, length: offset as Ticks }, after]
}
