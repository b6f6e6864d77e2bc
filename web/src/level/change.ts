// Changing the level of a cue by its points, where it stands on the chart.

import type { Level } from '@glowchart/shared/light/schema.ts'
import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { tell } from '../chart/foot.ts'
import { editTogether, type Told } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { levelAt, type Points, pointsOf, withMore } from './points.ts'

export const OF_LOOK = 'This cue has its level from its look. Free it from the look to draw one here.'

/** The level of a cue as it is written, and where on the chart its ticks begin from; null when it is its look's. */
export function levelOf(
  { song }: ViewedSong,
  place: CuePlace,
): { level: Level; points: Points; start: number } | null {
  const cue = song.sections[place.sourceSection]?.cues[place.id]
  if (!cue || 'look' in cue.light) return null
  const { level } = cue.light
  // What would sound before the song's start is cut off a place, and not off the cue.
  return { level, points: pointsOf(level, cue.length), start: place.at - (place.cue.at - cue.at) }
}

export function levelEdit(song: string, place: CuePlace, level: Level): Told {
  const cues = [{ section: place.sourceSection, cue: place.id }]
  return ['setCueLevel', { song, cues, level }]
}

export const putLevel = (song: string, place: CuePlace, level: Level): void =>
  void editTogether('Level points', [levelEdit(song, place, level)])

/** A point more at a place of the chart; says why, when there can be none. */
export function addPointAt(viewed: ViewedSong, place: CuePlace, tick: number): void {
  const now = levelOf(viewed, place)
  if (!now) {
    tell(OF_LOOK)
    return
  }
  const more = withMore(now.points, Math.round(tick) - now.start)
  if (more) putLevel(viewed.id, place, more.points)
  else tell(`There is a point already: ${Math.round(levelAt(now.points, tick - now.start) * 100)} %.`)
}
