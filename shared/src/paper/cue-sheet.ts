// The cue sheet of a song in words: bar by bar, what begins and what goes dark; a copy says what it repeats.

import { lightOf, swapped, trimmed } from '../show/edits/light.ts'
import type { Show } from '../show/schema.ts'
import type { Section } from '../show/song.ts'
import { barBeatAt } from '../time/meter.ts'
import { type CuePlace, cuePlaces, type SectionSpan, type Timeline } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'
import { cueWords } from './cue-words.ts'

export interface CueRow {
  /** “25”, or “25.3” off the first beat; “↥” marks a pick-up, before its section's start. */
  readonly bar: string
  /** Names of the looks that begin, or of the cues that have one. */
  readonly name: string
  /** One line a part. */
  readonly says: readonly string[]
}

export interface CueSection {
  readonly section: string
  readonly mark: string
  readonly name: string
  /** “9–24”. */
  readonly bars: string
  readonly vamp: boolean
  /** What it repeats: “as A, Verse 1, with Rose for Ember”; empty for a section of its own. */
  readonly repeats: string
  readonly note: string
  readonly rows: readonly CueRow[]
}

/** The sections of a song, each with what begins in it. Muted cue tracks and masks say nothing. */
export function cueSheet(show: Show, songId: string, timeline: Timeline): CueSection[] {
  const song = show.songs[songId]!
  const places = cuePlaces(song, timeline).filter(({ cue }) => {
    const track = song.tracks[cue.track]!
    return !track.muted && track.merge !== 'mask'
  })
  const partOf = (place: CuePlace): string => song.tracks[place.cue.track]!.part
  const dark = goingDark(places, partOf, timeline)
  return timeline.sections.map(span => {
    const section = song.sections[span.id]!
    const isCopy = span.source !== span.id
    const own = places.filter(p => p.section === span.id && !(isCopy && p.sourceSection === span.source))
    const ends = isCopy ? [] : dark.filter(d => d.at >= span.start && d.at < span.end)
    return {
      section: span.id,
      mark: span.mark,
      name: section.name,
      bars: span.bars === 1 ? `${span.firstBar + 1}` : `${span.firstBar + 1}–${span.firstBar + span.bars}`,
      vamp: span.vamp,
      repeats: isCopy ? repeatsText(show, song.sections, section, span, timeline) : '',
      note: section.note ?? '',
      rows: rowsOf(show, song.sections, own, ends, partOf, span, timeline),
    }
  })
}

function repeatsText(
  show: Show,
  sections: Readonly<Record<string, Section>>,
  { sameAs }: Section,
  span: SectionSpan,
  timeline: Timeline,
): string {
  const source = timeline.sections.find(s => s.id === span.source)
  const words = [`as ${source?.mark ?? ''}, ${sections[span.source]!.name}`]
  const named = (id: string): string => show.swatches[id]?.name ?? id
  const swaps = Object.entries(sameAs?.swatches ?? {}).map(([from, to]) => `${named(to)} for ${named(from)}`)
  if (swaps.length > 0) words.push(`with ${swaps.join(', ')}`)
  if (sameAs && sameAs.trim < 1) words.push(`at ${Math.round(sameAs.trim * 100)} %`)
  if (source && source.bars > span.bars) words.push(`its first ${span.bars} bars`)
  return words.join(', ')
}

interface Dark {
  readonly part: string
  readonly at: Ticks
}

/** Where parts go dark: a cue of theirs ends and none of theirs sounds on. The song's end is no news. */
function goingDark(
  places: readonly CuePlace[],
  partOf: (place: CuePlace) => string,
  timeline: Timeline,
): Dark[] {
  const parts = new Map<string, CuePlace[]>()
  for (const place of places) parts.set(partOf(place), [...(parts.get(partOf(place)) ?? []), place])
  return [...parts].flatMap(([part, list]) => {
    const ends = new Set(list.map(p => p.at + p.length))
    return [...ends].flatMap(end =>
      end < timeline.length && !list.some(p => p.at <= end && p.at + p.length > end)
        ? [{ part, at: end as Ticks }]
        : [],
    )
  })
}

function rowsOf(
  show: Show,
  sections: Readonly<Record<string, Section>>,
  places: readonly CuePlace[],
  ends: readonly Dark[],
  partOf: (place: CuePlace) => string,
  span: SectionSpan,
  timeline: Timeline,
): CueRow[] {
  const moments = [...new Set([...places.map(p => p.at), ...ends.map(d => d.at)])].sort((a, b) => a - b)
  const order = (part: string): number => show.partOrder.indexOf(part)
  return moments.map(at => {
    const begin = places.filter(p => p.at === at).sort((a, b) => order(partOf(a)) - order(partOf(b)))
    const names = begin.flatMap(({ cue }) =>
      'look' in cue.light ? [cue.name ?? show.looks[cue.light.look]?.name ?? ''] : [cue.name ?? ''],
    )
    const meter = meterAt(timeline, at)
    const says = begin.map(place => {
      const part = partOf(place)
      const link = place.section === place.sourceSection ? undefined : sections[place.section]?.sameAs
      const light = trimmed(swapped(lightOf(show, part, place.cue), link?.swatches ?? {}), link?.trim ?? 1)
      return `${show.parts[part]?.name ?? part}: ${cueWords(light, place.cue, show.swatches, meter)}`
    })
    const dark = ends
      .filter(d => d.at === at)
      .sort((a, b) => order(a.part) - order(b.part))
      .map(d => show.parts[d.part]?.name ?? d.part)
    return {
      bar: barText(timeline, at, span),
      name: [...new Set(names)].filter(Boolean).join(', '),
      says: dark.length > 0 ? [...says, `${dark.join(', ')}: dark`] : says,
    }
  })
}

function meterAt({ meters }: Timeline, at: Ticks) {
  return (meters.findLast(segment => segment.at <= at) ?? meters[0]!).meter
}

function barText(timeline: Timeline, at: Ticks, span: SectionSpan): string {
  const { bar, beat, tick } = barBeatAt(timeline.meters, at)
  const into = tick === 0 ? '' : '+'
  const text = beat === 0 && tick === 0 ? `${bar + 1}` : `${bar + 1}.${beat + 1}${into}`
  return at < span.start ? `↥ ${text}` : text
}
