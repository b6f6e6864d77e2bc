// Moods proposed for a song's sections from their names (common practice, no source), to be changed at will.

import type { Song } from '../song.ts'
import type { Mood } from './moods.ts'

/** Words that a name holds a word beginning with; the first that fit. Two moods: the first time, and when it comes again. */
const practice: readonly (readonly [string, Mood, Mood])[] = [
  ['pre-?\\s?chorus|build|rise|lift', 'rolling', 'rolling'],
  ['post-?\\s?chorus', 'driving', 'driving'],
  ['break-?\\s?down|drop-?\\s?out|interlude', 'floating', 'floating'],
  ['chorus|refrain|hook|drop', 'driving', 'soaring'],
  ['intro|opening|start', 'hushed', 'tender'],
  ['verse|strophe', 'tender', 'rolling'],
  ['bridge|middle|break', 'broken', 'broken'],
  ['solo|jam|instrumental', 'soaring', 'soaring'],
  ['outro|coda|end|tag|close', 'closing', 'closing'],
  ['riff|vamp|groove|theme', 'rolling', 'driving'],
]

/**
 * A mood for every section that has cues of its own, by id; a copy has its source's. Names that say nothing
 * go from hushed over rolling and driving to closing along the song.
 */
export function proposedMoods(song: Song): Record<string, Mood> {
  const own = song.sectionOrder.filter(id => !song.sections[id]!.sameAs)
  const times = new Map<string, number>()
  const moods: Record<string, Mood> = {}
  for (const [i, id] of own.entries()) {
    const known = practice.find(([words]) => new RegExp(`\\b(?:${words})`, 'i').test(song.sections[id]!.name))
    if (!known) {
      moods[id] = i === 0 ? 'hushed' : i === own.length - 1 ? 'closing' : i % 2 === 0 ? 'driving' : 'rolling'
      continue
    }
    const [words, first, again] = known
    const before = times.get(words) ?? 0
    times.set(words, before + 1)
    moods[id] = before === 0 ? first : again
  }
  return moods
}
