// Where cues may stand: a cue belongs to the section it starts in, pick-ups of up to one bar to the one that follows.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { barStart } from '../../time/meter.ts'
import { sectionAt, type Timeline, timelineOf } from '../../time/timeline.ts'
import type { Ticks } from '../../time/units.ts'
import { id } from '../fields.ts'
import type { Show } from '../schema.ts'
import type { Cue, Song } from '../song.ts'
import { found, put, requireNew, sectionOf, without, withSection } from './change.ts'

const cueRef = z.object({ section: id, cue: id })
export type CueRef = z.output<typeof cueRef>
/** The cues that an edit is about. */
export const cueRefs = z.array(cueRef).min(1).max(10_000)

export const cueOf = (song: Song, ref: CueRef): Cue =>
  found(
    sectionOf(song, ref.section).cues,
    ref.cue,
    'cue',
    `${song.title}: ${sectionOf(song, ref.section).name}`,
  )

/** A cue and where it is to stand: `at` counts from the section's start and may lie outside of it. */
export interface Placing extends CueRef {
  readonly value: Cue
}

/**
 * The song with cues put where they start: past its section's end, or more than a bar before its start, a cue goes to
 * the section that lies there.
 * @throws CodedError `edit.outside` when it would start after the song's end, or be over by its start, where nobody could
 *   find it again; `edit.linked` in a section that repeats
 *   another, unless the track is freed; `edit.exists`
 */
export function withCues(song: Song, placings: readonly Placing[]): Song {
  const timeline = timelineOf(song)
  let out = song
  for (const placing of placings) {
    const { section, cue, value } = settled(song, timeline, placing)
    const home = sectionOf(out, section)
    const where = `${song.title}: ${home.name}`
    requireNew(home.cues, cue, 'cue', where)
    requireFreed(song, section, value.track)
    out = withSection(out, section, { ...home, cues: put(home.cues, cue, value) })
  }
  return out
}

export function withoutCues(song: Song, refs: readonly CueRef[]): Song {
  let out = song
  for (const ref of refs) {
    cueOf(out, ref)
    const section = sectionOf(out, ref.section)
    out = withSection(out, ref.section, { ...section, cues: without(section.cues, ref.cue) })
  }
  return out
}

/** The song with each of the cues changed, all staying in their sections. */
export function changedCues(song: Song, refs: readonly CueRef[], change: (cue: Cue) => Cue): Song {
  let out = song
  for (const ref of refs) {
    const cue = change(cueOf(out, ref))
    const section = sectionOf(out, ref.section)
    out = withSection(out, ref.section, { ...section, cues: put(section.cues, ref.cue, cue) })
  }
  return out
}

function settled(song: Song, timeline: Timeline, placing: Placing): Placing {
  const { section, value } = placing
  sectionOf(song, section)
  const span = timeline.sections.find(s => s.id === section)!
  if (span.start + value.at + value.length <= 0) {
    throw new CodedError('edit.outside', 'the cue would be over before the song', song.title)
  }
  const barBefore = span.start - barStart(timeline.meters, span.firstBar - 1)
  if (value.at >= -barBefore && value.at < span.end - span.start) return placing
  const at = (span.start + value.at) as Ticks
  const home = sectionAt(timeline, at)
  if (!home) {
    const says = at < 0 ? 'the cue would start before the song' : 'the cue would start after the song'
    throw new CodedError('edit.outside', says, song.title)
  }
  return { ...placing, section: home.id, value: { ...value, at: (at - home.start) as Ticks } }
}

/** @throws CodedError `edit.linked` */
export function requireFreed(song: Song, id: string, track: string): void {
  const section = sectionOf(song, id)
  if (!section.sameAs || section.sameAs.freed.includes(track)) return
  const says = `it repeats "${sectionOf(song, section.sameAs.section).name}", this cue track too`
  throw new CodedError('edit.linked', says, `${song.title}: ${section.name}`)
}

/** "Wingbeat", "a cue of Tubes" or "3 cues". */
export function namesOf(show: Show, song: Song, refs: readonly CueRef[]): string {
  if (refs.length !== 1) return `${refs.length} cues`
  const cue = cueOf(song, refs[0]!)
  if (cue.name !== undefined) return cue.name
  if ('look' in cue.light) return show.looks[cue.light.look]!.name
  return `a cue of ${show.parts[song.tracks[cue.track]!.part]!.name}`
}
