// The cues of each line, as the same objects from one edit to the next where nothing about them has changed.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { type Line, lineEnd, lineStart } from './lines.ts'

/** By line: the places that sound on it, in order of time. */
export type LinePlaces = ReadonlyMap<Line, readonly CuePlace[]>

/**
 * Sorts the places of a song to its lines.
 * @param places in order of time
 * @param before what this gave for the song before an edit: a line's list stays the same one where it is equal
 */
export function placesOnLines(
  places: readonly CuePlace[],
  lines: readonly Line[],
  before: LinePlaces,
): LinePlaces {
  const old = new Map([...before].map(([line, list]) => [line.key, list]))
  const sorted = new Map<Line, readonly CuePlace[]>()
  let sounding: CuePlace[] = []
  let next = 0
  for (const line of lines) {
    const end = lineEnd(line)
    while (next < places.length && places[next]!.at < end) sounding.push(places[next++]!)
    sounding = sounding.filter(place => place.at + place.length > lineStart(line))
    const was = old.get(line.key)
    sorted.set(line, was && areSame(was, sounding) ? was : [...sounding])
  }
  return sorted
}

const areSame = (a: readonly CuePlace[], b: readonly CuePlace[]): boolean =>
  a.length === b.length && a.every((place, i) => isSame(place, b[i]!))

const isSame = (a: CuePlace, b: CuePlace): boolean =>
  a.cue === b.cue &&
  a.id === b.id &&
  a.at === b.at &&
  a.length === b.length &&
  a.section === b.section &&
  a.sourceSection === b.sourceSection
