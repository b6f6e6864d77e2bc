// The notes of a Standard MIDI File as the score of a song's sections: which voice plays what.

import type { Phrase, Voice } from '../show/song.ts'
import { type Ticks, ticks } from '../time/units.ts'
import { songTick } from './bars.ts'
import type { SmfSong } from './read.ts'

/** What a phrase of the show document may hold. */
const MOST_NOTES = 4096

/**
 * The voice of a program (1…128) on a channel (1…16). General MIDI System Level 1 (MMA RP-003): channel 10 is
 * percussion; programs 33–40 are basses. Which of the others lead is ours: brass, reeds and pipes (57–80) and the
 * leads among the synthesisers (81–88); keys, guitars, strings, voices, pads and the rest play chords.
 */
export function voiceOf(channel: number, program: number): Voice {
  if (channel === 10) return 'drums'
  if (program >= 33 && program <= 40) return 'bass'
  return program >= 57 && program <= 88 ? 'lead' : 'chords'
}

/**
 * A score for each section, all in ticks from its start; none for a section without notes. A note plays in the section
 * it begins in; before a program is chosen on its channel, the first one holds (1, a piano).
 * @param sections in order, the first at tick 0
 */
export function scoresOf(smf: SmfSong, sections: readonly { readonly at: Ticks }[], end: Ticks): Phrase[][] {
  const notes = smf.tracks
    .flatMap(track => track.notes)
    .sort((a, b) => a.at - b.at || a.channel - b.channel || a.key - b.key)
  const programs = new Array<number>(17).fill(1)
  const written = sections.map(() => new Map<Voice, Phrase['notes'][]>())
  let into = 0
  let next = 0
  for (const { at, length, channel, key, velocity } of notes) {
    for (; next < smf.programs.length && smf.programs[next]!.at <= at; next++) {
      const change = smf.programs[next]!
      programs[change.channel] = change.program
    }
    const start = songTick(smf, at)
    if (start >= end) break
    while (into + 1 < sections.length && sections[into + 1]!.at <= start) into++
    const voice = voiceOf(channel, programs[channel]!)
    const pages = written[into]!.get(voice) ?? [[]]
    if (pages.at(-1)!.length === MOST_NOTES) pages.push([])
    const held = ticks(Math.max(1, songTick(smf, at + length) - start))
    pages.at(-1)!.push([ticks(start - sections[into]!.at), held, key, velocity])
    written[into]!.set(voice, pages)
  }
  return written.map((voices, i) => {
    const length = ticks((sections[i + 1]?.at ?? end) - sections[i]!.at)
    return [...voices].flatMap(([voice, pages]) =>
      pages.map(
        (page): Phrase => ({ voice, at: ticks(0), length, every: length, origin: ticks(0), notes: page }),
      ),
    )
  })
}
