// Taking a section out of a song; when others repeat it, the first of them takes its place and nothing else changes.

import { bpmAt } from '../../time/tempo.ts'
import { type Timeline, timelineOf } from '../../time/timeline.ts'
import type { Ticks } from '../../time/units.ts'
import { canonicalText } from '../canonical.ts'
import { sameValue } from '../diff.ts'
import type { Show } from '../schema.ts'
import type { Section, Song } from '../song.ts'
import { keptInTime, takenCues, unlinked } from './bake.ts'
import { without, withSection } from './change.ts'
import { lightOf, swatchesOf } from './light.ts'
import { scoreWithin } from './phrases.ts'

/**
 * The song without a section. Its first copy takes over what it held; the other copies repeat that one, or, where
 * that would change what they play (the first had replaced a swatch, freed a track or was shorter), hold their own.
 */
export function withoutSection(show: Show, song: Song, id: string): Song {
  const before = timelineOf(song)
  const copies = song.sectionOrder.filter(other => song.sections[other]!.sameAs?.section === id)
  let out = song
  for (const copy of copies) out = unlinked(show, out, copy)
  out = {
    ...out,
    sections: without(out.sections, id),
    sectionOrder: song.sectionOrder.filter(other => other !== id),
  }
  for (const copy of copies) out = keptInTime(out, copy, before)
  const [first, ...others] = copies
  for (const copy of others) {
    const relinked = withSection(out, copy, relinkedTo(show, song, first!, copy))
    if (sameValue(heard(show, relinked, copy, timelineOf(relinked)), heard(show, song, copy, before)))
      out = relinked
  }
  return out
}

/** The copy as it was, repeating the promoted one instead: what that one has replaced already is put back. */
function relinkedTo(show: Show, song: Song, first: string, copy: string): Section {
  const promoted = song.sections[first]!.sameAs!
  const section = song.sections[copy]!
  const link = section.sameAs!
  const swatches: Record<string, string> = {}
  for (const swatch of swatchesIn(show, song, song.sections[link.section]!)) {
    const from = promoted.swatches[swatch] ?? swatch
    const to = link.swatches[swatch] ?? swatch
    if (from !== to) swatches[from] = to
  }
  const trim = promoted.trim === 0 ? link.trim : Math.min(1, link.trim / promoted.trim)
  return { ...section, sameAs: { ...link, section: first, swatches, trim } }
}

function swatchesIn(show: Show, song: Song, section: Section): Set<string> {
  const lights = Object.values(section.cues).map(cue => lightOf(show, song.tracks[cue.track]!.part, cue))
  return new Set(lights.flatMap(swatchesOf))
}

/** All that a section plays, whatever the ids of its cues: to see whether two songs play it alike. */
function heard(show: Show, song: Song, id: string, timeline: Timeline): unknown {
  const { start, end, firstBar, bars } = timeline.sections.find(s => s.id === id)!
  const section = song.sections[id]!
  const taken = section.sameAs ? takenCues(show, song, id, timeline) : []
  const inside = timeline.tempo
    .filter(segment => segment.at > start && segment.at < end)
    .map(s => s.at - start)
  return {
    score: scoreWithin(song.sections[section.sameAs?.section ?? id]!.score, end - start) ?? [],
    cues: [...taken, ...Object.values(section.cues)].map(canonicalText).sort(),
    meters: timeline.meters
      .filter(segment => segment.bar < firstBar + bars)
      .map(segment => ({ bar: Math.max(0, segment.bar - firstBar), meter: segment.meter }))
      .filter((segment, i, all) => segment.bar > 0 || all[i + 1]?.bar !== 0),
    // Where the tempo bends, to a millionth of a BPM: baking rounds its glides.
    tempo: [0, 1, ...inside].map(at => [at, Math.round(1e6 * bpmAt(timeline.tempo, (start + at) as Ticks))]),
  }
}
