// The chosen cues as they stand on the chart, with the light that each has, its own or its look's.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Track } from '@glowchart/shared/show/song.ts'
import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import type { ChosenCue } from '../document/choice.ts'
import { placesOf, type ViewedSong } from '../document/viewed.ts'

export interface Chosen {
  readonly place: CuePlace
  readonly ref: ChosenCue
  readonly track: Track
  readonly light: Light
  /** The look that it has its light from. */
  readonly look: string | null
}

/**
 * Those of the choice that are in the song, in order of time, each where it is written.
 * @param seenIn the section they were chosen in: those that it shows over its link stand there, in its colours
 */
export function chosenOf(
  show: Show,
  viewed: ViewedSong,
  choice: readonly ChosenCue[],
  seenIn: string | null = null,
): Chosen[] {
  if (choice.length === 0) return []
  const { song } = viewed
  const ids = new Set(choice.map(ref => ref.cue))
  const places = new Map<string, CuePlace>()
  for (const place of placesOf(viewed)) {
    if (!ids.has(place.id)) continue
    const key = `${place.sourceSection}/${place.id}`
    const other = places.get(key)
    if (other && other.section === seenIn) continue
    if (!other || place.section === seenIn || place.section === place.sourceSection) places.set(key, place)
  }
  const chosen = choice.flatMap(({ section, cue }): Chosen[] => {
    const place = places.get(`${section}/${cue}`)
    const track = place && song.tracks[place.cue.track]
    if (!track) return []
    const own = place.cue.light
    const look = 'look' in own ? own.look : null
    const light = 'look' in own ? show.looks[own.look]?.parts[track.part] : own
    return light ? [{ place, ref: { section, cue }, track, light, look }] : []
  })
  return chosen.sort((a, b) => a.place.at - b.place.at)
}

/**
 * The swatches as a place plays them: a copy of a section may replace some.
 * @param section the one that the place is played in
 */
export function swatchesIn(
  swatches: Show['swatches'],
  { song }: ViewedSong,
  { section, sourceSection }: CuePlace,
): Show['swatches'] {
  const replaced = section === sourceSection ? {} : (song.sections[section]?.sameAs?.swatches ?? {})
  const played = Object.entries(replaced).flatMap(([from, to]) =>
    swatches[to] && swatches[from] ? [[from, swatches[to]] as const] : [],
  )
  return { ...swatches, ...Object.fromEntries(played) }
}

/** The value that all have; null when they differ. */
export function shared<A, T>(of: readonly A[], value: (one: A) => T): T | null {
  const first = of[0]
  if (first === undefined) return null
  const says = JSON.stringify(value(first))
  return of.every(one => JSON.stringify(value(one)) === says) ? value(first) : null
}
