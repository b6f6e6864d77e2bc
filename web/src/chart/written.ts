// What is written anew on the chart: a new cue in the part's light, copies of cues, and the cue track they need.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue } from '@glowchart/shared/show/song.ts'
import { type SectionSpan, sectionAt } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { ChosenCue } from '../document/choice.ts'
import type { Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import type { ViewedSong } from '../document/viewed.ts'

interface Written {
  readonly edits: readonly Told[]
  readonly refs: readonly ChosenCue[]
}

/** A part's first cue track, or the edit that gives it one. */
export function trackOf({ id, song }: ViewedSong, part: string): { track: string; edits: readonly Told[] } {
  const track = song.trackOrder.find(t => song.tracks[t]?.part === part)
  if (track !== undefined) return { track, edits: [] }
  const made = newId('track')
  return { track: made, edits: [['addTrack', { song: id, track: made, part }]] }
}

/**
 * A new cue on a part, `at` ticks from the song's start, in the colours and the motion the part had last.
 * @param on its cue track; left out, the part's first one
 */
export function newCue(
  show: Show,
  viewed: ViewedSong,
  part: string,
  at: number,
  length: number,
  on: string | null = null,
): { edits: readonly Told[]; ref: ChosenCue } {
  const { track, edits } = on === null ? trackOf(viewed, part) : { track: on, edits: [] }
  const cue = newId('cue')
  const { section, start } = homeOf(viewed, at, track)
  const value = {
    track,
    at: ticks(at - start),
    length: ticks(length),
    light: lastLight(show, viewed, part, at),
  }
  return {
    edits: [...edits, ['addCues', { song: viewed.id, section, cues: { [cue]: value } }]],
    ref: { section, cue },
  }
}

/** Copies of cues in their sections, so many ticks later. @param track the one they go to; left out: their own */
export function copied(
  { id, song }: ViewedSong,
  refs: readonly ChosenCue[],
  by: number,
  track?: string,
): Written {
  const bySection = new Map<string, Record<string, Cue>>()
  const made = refs.map(({ section, cue }) => {
    const copy = newId('cue')
    const value = song.sections[section]!.cues[cue]!
    const record = bySection.get(section) ?? {}
    record[copy] = track === undefined ? value : { ...value, track }
    bySection.set(section, record)
    return { section, cue: copy }
  })
  const edits = [...bySection].map(
    ([section, cues]): Told => ['pasteCues', { song: id, section, cues, at: ticks(by) }],
  )
  return { edits, refs: made }
}

/**
 * The section that a cue written at a place belongs to, and where that begins: in a section that repeats another, the
 * other one, so that what is written there is written for both.
 */
export function homeOf(
  { song, timeline }: ViewedSong,
  at: number,
  track: string,
): { section: string; start: number } {
  const span: SectionSpan | undefined = sectionAt(timeline, ticks(at)) ?? timeline.sections.at(-1)
  if (!span) return { section: song.sectionOrder[0] ?? '', start: 0 }
  const isFreed = song.sections[span.id]?.sameAs?.freed.includes(track) ?? false
  return { section: isFreed ? span.id : span.source, start: span.start }
}

/** The light of the cue before a place on a part; of the one after it, where none is; of a lamp, where no cue is. */
export function lastLight(show: Show, { song, timeline }: ViewedSong, part: string, at: number) {
  let before: { at: number; cue: Cue } | null = null
  let after: { at: number; cue: Cue } | null = null
  for (const span of timeline.sections) {
    for (const cue of Object.values(song.sections[span.source]!.cues)) {
      if (song.tracks[cue.track]?.part !== part) continue
      const start = span.start + cue.at
      if (start <= at && (!before || start >= before.at)) before = { at: start, cue }
      if (start > at && (!after || start < after.at)) after = { at: start, cue }
    }
  }
  const cue = (before ?? after)?.cue
  const light = cue && ('look' in cue.light ? show.looks[cue.light.look]?.parts[part] : cue.light)
  if (light) return flat(light)
  const swatch = Object.keys(show.swatches)[0]
  return {
    level: 1,
    colours: { along: 'none' as const, colour: swatch === undefined ? { hex: '#ffd29a' } : { swatch } },
    motion: { kind: 'sustain' as const },
  }
}

/** Without the points of its level, which belong to the cue they were drawn on. */
const flat = (light: Light): Light =>
  typeof light.level === 'number' ? light : { ...light, level: Math.max(...light.level.map(p => p.level)) }
