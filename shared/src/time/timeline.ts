// The timeline: a song's sections laid end to end, with its tempo map, its meter map and every cue as played.

import type { Cue, Meter, Song } from '../show/song.ts'
import { rehearsalMarks, sourceOf } from './marks.ts'
import { barStart, type MeterChange, type MeterMap, meterMap } from './meter.ts'
import { withoutStart } from './pickup.ts'
import { bpmAt, type TempoChange, type TempoMap, tempoMap } from './tempo.ts'
import type { Ticks } from './units.ts'

/** A section as it stands in the song: half-open, [start, end) in ticks from the song's start. */
export interface SectionSpan {
  readonly id: string
  /** The section whose cues, tempo and meters it takes: its own id, or that of the section it is a copy of. */
  readonly source: string
  /** Place in the song's order, from 0. */
  readonly index: number
  readonly start: Ticks
  readonly end: Ticks
  /** 0-based, from the song's first bar. */
  readonly firstBar: number
  readonly bars: number
  /** Repeats until released; so does every section of a stepped song. */
  readonly vamp: boolean
  /** Its rehearsal mark. */
  readonly mark: string
}

/** A song laid out as written. Plain data. */
export interface Timeline {
  readonly sections: readonly SectionSpan[]
  readonly tempo: TempoMap
  readonly meters: MeterMap
  readonly length: Ticks
}

/**
 * Lays out a valid song.
 *
 * Tempo and meter hold over section ends until changed. A copy (`sameAs`) repeats its source: it begins in the tempo
 * and meter the source began in (those that hold, where the source comes later in the song), then takes the source's
 * marks, clipped to its own bars. A mark that lies past its section's end is not played.
 */
export function timelineOf(song: Song): Timeline {
  const marks = rehearsalMarks(song)
  const sections: SectionSpan[] = []
  const tempoChanges: TempoChange[] = []
  const meterChanges: MeterChange[] = []
  const placed = new Map<string, { start: Ticks; meter: Meter }>()
  let meters = meterMap(song.meter, [])
  let firstBar = 0
  for (const [index, id] of song.sectionOrder.entries()) {
    const section = song.sections[id]!
    const source = sourceOf(song, id)
    const { tempo, meters: changes } = song.sections[source]!
    const start = barStart(meters, firstBar)
    const repeated = source === id ? undefined : placed.get(source)
    const meter = repeated?.meter ?? meters.at(-1)!.meter
    if (repeated) {
      meterChanges.push({ bar: firstBar, meter })
      tempoChanges.push({ at: start, bpm: bpmAt(tempoMap(song.bpm, tempoChanges), repeated.start) })
    }
    for (const change of changes) {
      if (change.bar < section.bars) meterChanges.push({ bar: firstBar + change.bar, meter: change.meter })
    }
    meters = meterMap(song.meter, meterChanges)
    const end = barStart(meters, firstBar + section.bars)
    for (const mark of tempo) {
      const at = (start + mark.at) as Ticks
      if (at < end) tempoChanges.push({ ...mark, at, ...(source === id ? {} : { until: end }) })
    }
    sections.push({
      id,
      source,
      index,
      start,
      end,
      firstBar,
      bars: section.bars,
      vamp: section.vamp || song.stepped === true,
      mark: marks.get(id)!,
    })
    placed.set(id, { start, meter })
    firstBar += section.bars
  }
  return { sections, tempo: tempoMap(song.bpm, tempoChanges), meters, length: barStart(meters, firstBar) }
}

/** The section a written position lies in; null before the song's start and from its end on. */
export function sectionAt(timeline: Timeline, ticks: Ticks): SectionSpan | null {
  return timeline.sections.find(s => s.start <= ticks && ticks < s.end) ?? null
}

/** A cue as it is played: where it stands in the song. */
export interface CuePlace {
  /** The cue's id, and the section whose record holds it. */
  readonly id: string
  readonly sourceSection: string
  /** The section it is played in; another one than `sourceSection` when it comes over a copy's link. */
  readonly section: string
  /** Ticks from the song's start. */
  readonly at: Ticks
  /** Ticks it lasts here; `cue.length` unless a copy clips it. */
  readonly length: Ticks
  readonly cue: Cue
}

/**
 * Every cue as played, in order of time (cues on one tick: in order of section, then id).
 *
 * A copy plays its source's cues, but on freed tracks its own. A cue that starts at or after its section's end is not
 * played. A cue may run past its section's end; in a copy shorter than its source the end of every cue from the source
 * that would run past the copy's end comes forward, to that end or as far beyond it as it ran past the source's. What
 * would sound before the song's start is cut off.
 * @param only cues of these tracks; null: of all
 */
export function cuePlaces(
  song: Song,
  timeline: Timeline,
  only: ReadonlySet<string> | null = null,
): CuePlace[] {
  const places: CuePlace[] = []
  const spans = new Map(timeline.sections.map(span => [span.id, span]))
  for (const span of timeline.sections) {
    const section = song.sections[span.id]!
    const length = span.end - span.start
    const place = (sourceSection: string, id: string, whole: Cue, end: number): void => {
      if (only && !only.has(whole.track)) return
      const early = -(span.start + whole.at)
      const cue = early > 0 ? withoutStart(whole, early as Ticks) : whole
      if (whole.at >= length || cue.at >= end) return
      const at = (span.start + cue.at) as Ticks
      places.push({ id, section: span.id, sourceSection, at, length: (end - cue.at) as Ticks, cue })
    }
    const isCopy = span.source !== span.id
    const freed = section.sameAs?.freed ?? []
    if (isCopy) {
      const source = spans.get(span.source)!
      for (const [id, cue] of Object.entries(song.sections[span.source]!.cues)) {
        if (freed.includes(cue.track)) continue
        const end = cue.at + cue.length
        const past = Math.max(0, end - (source.end - source.start))
        place(span.source, id, cue, Math.min(end, length + past))
      }
    }
    for (const [id, cue] of Object.entries(section.cues)) {
      if (!isCopy || freed.includes(cue.track)) place(span.id, id, cue, cue.at + cue.length)
    }
  }
  const index = (place: CuePlace) => spans.get(place.section)!.index
  return places.sort((a, b) => a.at - b.at || index(a) - index(b) || (a.id < b.id ? -1 : 1))
}
