// Placing a look on the chart: one linked cue a part, until the next look or the section's end.

import type { Look, Show } from '@glowchart/shared/show/schema.ts'
import { type CuePlace, sectionAt } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { reveal } from '../chart/reveal.ts'
import { gridNow, onGrid } from '../chart/snap.ts'
import { type ChosenCue, choose } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import { editTogether, type Told } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { say } from '../document/session.ts'
import { placesOf, type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { songPosition } from '../transport/moves.ts'

/** Puts a look where the playhead is, on the grid, and chooses the cues that it becomes. */
export const placeAtPlayhead = (look: string): void => choose(placeLook(look, songPosition()))

/** Puts a look at a tick of the song, on the grid. @returns the cues that it becomes */
export function placeLook(look: string, tick: number): ChosenCue[] {
  const viewed = viewedSongNow()
  const show = useDocument.getState().show
  const found = show?.looks[look]
  if (!viewed || !show || !found) return []
  const at = Math.max(0, onGrid(viewed.timeline.meters, tick, gridNow()))
  const span = sectionAt(viewed.timeline, ticks(at))
  if (!span) {
    say('The look would start after the song.')
    return []
  }
  const as = newId('placed')
  const parts = show.partOrder.filter(part => found.parts[part])
  const end = nextLookOf(viewed, at) ?? span.end
  const args = {
    song: viewed.id,
    section: span.source,
    at: ticks(at - span.start),
    length: ticks(Math.min(end, span.end) - at),
    look,
    as,
  }
  void editTogether(`Place ${found.name}`, [...cleared(viewed, found, at), ['placeLook', args]])
  reveal(at)
  return parts.map((_, i) => ({ section: span.source, cue: `${as}-${i + 1}` }))
}

const nextLookOf = (viewed: ViewedSong, at: number): number | undefined =>
  placesOf(viewed).find(place => place.at > at && 'look' in place.cue.light)?.at

/**
 * What makes room for a look: whatever still holds there, of another look or on the tracks that the look takes, ends
 * there; what begins there too goes.
 */
function cleared(viewed: ViewedSong, look: Look, at: number): Told[] {
  const { id, song } = viewed
  const taken = new Set(
    Object.keys(look.parts).map(part => song.trackOrder.find(track => song.tracks[track]!.part === part)),
  )
  const told = new Map<string, Told>()
  const inTheWay = (place: CuePlace) =>
    place.at <= at &&
    at < place.at + place.length &&
    ('look' in place.cue.light || taken.has(place.cue.track))
  for (const place of placesOf(viewed).filter(inTheWay)) {
    const ref = { section: place.sourceSection, cue: place.id }
    const written = song.sections[ref.section]!.cues[ref.cue]!
    const length = ticks(at - place.at)
    told.set(
      ref.cue,
      length === 0
        ? ['deleteCues', { song: id, cues: [ref] }]
        : ['resizeCue', { song: id, ...ref, at: written.at, length }],
    )
  }
  return [...told.values()]
}

/** How often a look stands in the songs, a place counted once, and in how many of them. */
export function usesOf(show: Show, look: string): { places: number; songs: number } {
  let places = 0
  let songs = 0
  for (const { sections } of Object.values(show.songs)) {
    const starts = Object.entries(sections).flatMap(([section, { cues }]) =>
      Object.values(cues).flatMap(({ at, light }) =>
        'look' in light && light.look === look ? [`${section}/${at}`] : [],
      ),
    )
    places += new Set(starts).size
    songs += starts.length > 0 ? 1 : 0
  }
  return { places, songs }
}
