// The notes of a song's score as they are played: phrases unrolled, copies playing their source's, all in order of time.

import type { Phrase, Song, Voice } from '../show/song.ts'
import type { Timeline } from '../time/timeline.ts'
import { type Ticks, ticks } from '../time/units.ts'

/** A note as it stands in the song. */
export interface Note {
  readonly voice: Voice
  /** Ticks from the song's start, and how long it is held. */
  readonly at: Ticks
  readonly length: Ticks
  /** MIDI key, 0–127; of drums, a key of the General MIDI percussion map. */
  readonly key: number
  /** 1–127. */
  readonly velocity: number
}

/**
 * Every note of the score in order of time. A pattern repeats over its phrase's span; a note begins inside the span or
 * not at all, and none is held over the end of its phrase or of its section. A copy plays its source's score, cut to
 * its own length.
 */
export function scoreNotes(song: Song, timeline: Timeline): Note[] {
  const notes: Note[] = []
  for (const { source, start, end } of timeline.sections) {
    for (const phrase of song.sections[source]!.score ?? []) {
      phraseNotes(phrase, start, end, notes)
    }
  }
  return notes.sort((a, b) => a.at - b.at)
}

function phraseNotes(phrase: Phrase, start: number, end: number, into: Note[]): void {
  const from = start + phrase.at
  const to = Math.min(end, from + phrase.length)
  for (let pattern = from + phrase.origin; pattern < to; pattern += phrase.every) {
    for (const [tick, length, key, velocity] of phrase.notes) {
      const at = pattern + tick
      if (tick >= phrase.every || at < from || at >= to) continue
      into.push({
        voice: phrase.voice,
        at: ticks(at),
        length: ticks(Math.min(length, to - at)),
        key,
        velocity,
      })
    }
  }
}

/** The index of the first of some things in order of time that is not before a tick. */
export function firstFrom(things: readonly { readonly at: Ticks }[], tick: number): number {
  let low = 0
  let high = things.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (things[middle]!.at < tick) low = middle + 1
    else high = middle
  }
  return low
}
