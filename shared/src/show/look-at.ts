// What stands on the stage at one place of a song, part by part: what a look is made of.

import type { Level, Light } from '../light/schema.ts'
import { type CuePlace, cuePlaces, type Timeline } from '../time/timeline.ts'
import { lightOf, swapped, trimmed } from './edits/light.ts'
import type { Show } from './schema.ts'
import type { Song } from './song.ts'

/**
 * The light of each part whose cue holds at `tick`, in the show's order of parts: that of the lowest cue track that is
 * neither muted nor a mask, and there of the cue that begins last. A copy's swatches and trim are worked in; a level
 * of points is what it is at that moment; fades are left out, as a look is a state that stands.
 */
export function lookAt(show: Show, song: Song, timeline: Timeline, tick: number): Record<string, Light> {
  const holding = cuePlaces(song, timeline).filter(({ at, length, cue }) => {
    const track = song.tracks[cue.track]!
    return at <= tick && tick < at + length && !track.muted && track.merge !== 'mask'
  })
  const order = (place: CuePlace): number => song.trackOrder.indexOf(place.cue.track)
  holding.sort((a, b) => order(a) - order(b) || a.at - b.at)
  const byPart = new Map<string, Light>()
  for (const place of holding) {
    const { part } = song.tracks[place.cue.track]!
    const link = place.section === place.sourceSection ? undefined : song.sections[place.section]?.sameAs
    const light = swapped(lightOf(show, part, place.cue), link?.swatches ?? {})
    const level = levelAt(light.level, tick - place.at)
    byPart.set(part, trimmed({ ...light, level }, link?.trim ?? 1))
  }
  return Object.fromEntries(
    show.partOrder.flatMap(part => {
      const light = byPart.get(part)
      return light ? [[part, light]] : []
    }),
  )
}

/** Between two points the level moves evenly in L*; before the first and after the last it holds. */
function levelAt(level: Level, at: number): number {
  if (typeof level === 'number') return level
  const points = [...level].sort((a, b) => a.at - b.at)
  const next = points.findIndex(point => point.at > at)
  if (next <= 0) return points.at(next)!.level
  const [before, after] = [points[next - 1]!, points[next]!]
  return before.level + ((after.level - before.level) * (at - before.at)) / (after.at - before.at)
}
