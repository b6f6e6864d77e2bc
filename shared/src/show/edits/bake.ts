// Baking a copy: what a section that repeats another would hold if everything it plays were its own.

import { bpmAt } from '../../time/tempo.ts'
import { type SectionSpan, type Timeline, timelineOf } from '../../time/timeline.ts'
import type { Ticks } from '../../time/units.ts'
import { sameValue } from '../diff.ts'
import type { Show } from '../schema.ts'
import type { Cue, Meter, Section, Song, TempoMark } from '../song.ts'
import { splitCue } from '../split.ts'
import { withFields, withSection } from './change.ts'
import { lightOf, swapped, trimmed } from './light.ts'
import { scoreWithin } from './phrases.ts'

type Link = NonNullable<Section['sameAs']>

/** The cues that a copy takes from its source, as its link changes and clips them, in order of the source's ids. */
export function takenCues(show: Show, song: Song, id: string, timeline: Timeline): Cue[] {
  const section = song.sections[id]!
  const link = section.sameAs!
  const length = lengthOf(timeline, id)
  const sourceLength = lengthOf(timeline, link.section)
  const source = Object.entries(song.sections[link.section]!.cues).sort(([a], [b]) => (a < b ? -1 : 1))
  return source.flatMap(([, cue]) => {
    const end = cue.at + cue.length
    const ends = Math.min(end, length + Math.max(0, end - sourceLength))
    if (link.freed.includes(cue.track) || cue.at >= length || ends <= cue.at) return []
    const part = song.tracks[cue.track]!.part
    const baked = bakedLight(show, part, link, cue)
    return [ends < end ? splitCue(baked, ends - cue.at)[0] : baked]
  })
}

/** A cue stays linked to its look unless the copy changes the light. */
function bakedLight(show: Show, part: string, link: Link, cue: Cue): Cue {
  const before = lightOf(show, part, cue)
  const after = trimmed(swapped(before, link.swatches), link.trim)
  return after === before ? cue : { ...cue, light: after }
}

/**
 * The song with a copy unlinked: the section holds all it played, under ids made from its own. The tempo and meter it
 * began in may differ from those that hold there; see `keptInTime`.
 */
export function unlinked(show: Show, song: Song, id: string): Song {
  const timeline = timelineOf(song)
  const section = song.sections[id]!
  const span = timeline.sections.find(s => s.id === id)!
  const source = song.sections[span.source]!
  const taken = takenCues(show, song, id, timeline)
  const ids = freshCueIds(song, id, taken.length)
  const cues = { ...section.cues, ...Object.fromEntries(taken.map((cue, i) => [ids[i]!, cue])) }
  const meters = source.meters.filter(change => change.bar < section.bars)
  const tempo = clippedTempo(source.tempo, timeline, span)
  const score = scoreWithin(source.score, span.end - span.start)
  return withSection(song, id, withFields(section, { sameAs: null, meters, tempo, cues, score }))
}

/** The song with tracks of a copy freed from its link: the copy holds what it played on them. */
export function tracksFreed(show: Show, song: Song, id: string, tracks: readonly string[]): Song {
  const section = song.sections[id]!
  const link = section.sameAs!
  const fresh = tracks.filter(track => !link.freed.includes(track))
  const taken = takenCues(show, song, id, timelineOf(song)).filter(cue => fresh.includes(cue.track))
  const ids = freshCueIds(song, id, taken.length)
  const cues = { ...section.cues, ...Object.fromEntries(taken.map((cue, i) => [ids[i]!, cue])) }
  return withSection(song, id, { ...section, sameAs: { ...link, freed: [...link.freed, ...fresh] }, cues })
}

/** The song with marks at a section's start, where its meter or tempo would no longer be what `before` has there. */
export function keptInTime(song: Song, id: string, before: Timeline): Song {
  const was = before.sections.find(s => s.id === id)!
  const meterAt = (timeline: Timeline, bar: number): Meter =>
    timeline.meters.findLast(segment => segment.bar <= bar)!.meter
  let out = song
  let now = timelineOf(out)
  const start = (): SectionSpan => now.sections.find(s => s.id === id)!
  const meter = meterAt(before, was.firstBar)
  if (!sameValue(meterAt(now, start().firstBar), meter)) {
    const section = out.sections[id]!
    out = withSection(out, id, { ...section, meters: [{ bar: 0, meter }, ...section.meters] })
    now = timelineOf(out)
  }
  const bpm = bpmAt(before.tempo, was.start)
  const differs = (ticksIn: number): boolean => {
    const wanted = bpmAt(before.tempo, (was.start + ticksIn) as Ticks)
    return Math.abs(bpmAt(now.tempo, (start().start + ticksIn) as Ticks) - wanted) > 1e-9
  }
  // A tick further on shows a glide that runs in from the section before.
  if (differs(0) || differs(1)) {
    const section = out.sections[id]!
    out = withSection(out, id, { ...section, tempo: [{ at: 0 as Ticks, bpm }, ...section.tempo] })
  }
  return out
}

/** The source's marks that a copy plays; a glide that its end cuts short arrives there, at the tempo of that moment. */
function clippedTempo(marks: readonly TempoMark[], timeline: Timeline, span: SectionSpan): TempoMark[] {
  const length = span.end - span.start
  return marks
    .filter(mark => mark.at < length)
    .map(mark => {
      const { at, bpm, glide } = mark
      if (glide === undefined || at + glide <= length) return mark
      const from = bpmAt(timeline.tempo, (span.start + at) as Ticks)
      return { at, bpm: from + ((bpm - from) * (length - at)) / glide, glide: (length - at) as Ticks }
    })
}

/** Ids for new cues of a section, made from its own id, that no cue of the song has; they sort as they are listed. */
export function freshCueIds(song: Song, section: string, count: number): string[] {
  const taken = new Set(Object.values(song.sections).flatMap(s => Object.keys(s.cues)))
  const ids: string[] = []
  for (let n = 1; ids.length < count; n++) {
    const id = `${section.slice(0, 48)}-${String(n).padStart(5, '0')}`
    if (!taken.has(id)) ids.push(id)
  }
  return ids
}

/** Ticks of a section. */
export const lengthOf = (timeline: Timeline, id: string): number => {
  const span = timeline.sections.find(s => s.id === id)!
  return span.end - span.start
}
