// Stretching a choice of cues in proportion: by its outer edges with the pointer, by steps of the grid with keys.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { Told } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import type { Draft, Drag } from './draft.ts'
import { keyOf } from './grip.ts'
import { lengthWords, placeWords } from './snap.ts'

/** One place of every cue: the one nearest to where the hand is, as a link may show a cue several times. */
export function nearestPlaces(places: readonly CuePlace[], near: number): CuePlace[] {
  const nearest = new Map<string, CuePlace>()
  for (const place of places) {
    const other = nearest.get(keyOf(place))
    if (!other || Math.abs(place.at - near) < Math.abs(other.at - near)) nearest.set(keyOf(place), place)
  }
  return [...nearest.values()]
}

/** Start and end of them all, ticks. */
export const outerEdges = (places: readonly CuePlace[]): { start: number; end: number } => ({
  start: Math.min(...places.map(place => place.at)),
  end: Math.max(...places.map(place => place.at + place.length)),
})

/** The edits that stretch places by `to` / `from` around a place, all in ticks of the chart. */
export function stretchEdits(
  { id: song, timeline, song: { sections } }: ViewedSong,
  places: readonly CuePlace[],
  around: number,
  from: number,
  to: number,
): Told[] {
  // What a copy shows is stretched where it is written, around the place that is the same there.
  const byShift = new Map<number, CuePlace[]>()
  for (const place of places) {
    const { start } = timeline.sections.find(span => span.id === place.sourceSection)!
    const shift = place.at - start - sections[place.sourceSection]!.cues[place.id]!.at
    byShift.set(shift, [...(byShift.get(shift) ?? []), place])
  }
  return [...byShift].map(([shift, group]): Told => {
    const cues = group.map(place => ({ section: place.sourceSection, cue: place.id }))
    return ['stretchCues', { song, cues, around: ticks(around - shift), from: ticks(from), to: ticks(to) }]
  })
}

/** The least that a choice is squeezed to, ticks a cue. */
const LEAST = 60

/** A drag of an edge as a stretch of the whole choice; null when it is not an outer edge of several. */
export function stretchOf(drag: Drag, place: CuePlace, handle: 'start' | 'end'): Draft | null {
  const places = nearestPlaces(drag.held, place.at)
  if (places.length < 2) return null
  const { start, end } = outerEdges(places)
  const old = handle === 'start' ? start : end
  if (old !== (handle === 'start' ? place.at : place.at + place.length)) return null
  const around = handle === 'start' ? end : start
  const least = LEAST * places.length
  const wanted = drag.snap(old + drag.to - drag.from)
  const edge =
    handle === 'start' ? Math.max(0, Math.min(wanted, end - least)) : Math.max(wanted, start + least)
  const from = end - start
  const to = Math.abs(edge - around)
  const { song, timeline } = drag.viewed
  const scaled = (tick: number) => around + Math.round(((tick - around) * to) / from)
  return {
    spans: places.map(p => ({
      part: song.tracks[p.cue.track]!.part,
      track: p.cue.track,
      from: scaled(p.at),
      to: scaled(p.at + p.length),
    })),
    at: edge,
    says: `${places.length} cues ${handle === 'start' ? 'from' : 'to'} ${placeWords(timeline.meters, edge)}, ${lengthWords(timeline.meters, Math.min(edge, around), to)}`,
    name: `Stretch ${places.length} cues`,
    edits: to === from ? [] : stretchEdits(drag.viewed, places, around, from, to),
    chooses: null,
  }
}
