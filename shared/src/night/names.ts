// Names for what a status only has ids of, from the documents that the engine held at that moment.

import type { Rig } from '../rig/schema.ts'
import type { Show } from '../show/schema.ts'
import type { Song } from '../show/song.ts'
import { barBeatAt } from '../time/meter.ts'
import { sectionAt, type Timeline, timelineOf } from '../time/timeline.ts'
import { ticks } from '../time/units.ts'

export interface Names {
  song(id: string): string
  look(id: string): string
  box(id: string): string
  /** Bar (from 1) and section at a written position; null for a song that is not known. */
  place(song: string, position: number): { bar: number; section?: string } | null
  /** Ticks of a song; Infinity when it is not known. */
  length(song: string): number
}

/** Null documents: nothing is known, and ids stand for names. */
export function namesOf(documents: { readonly rig: Rig; readonly show: Show } | null): Names {
  const show = documents?.show
  const laidOut = (id: string): { song: Song; timeline: Timeline } | null => {
    const song = show?.songs[id]
    if (!song) return null
    const timeline = timelines.get(song) ?? timelineOf(song)
    timelines.set(song, timeline)
    return { song, timeline }
  }
  return {
    song: id => show?.songs[id]?.title ?? id,
    look: id => show?.looks[id]?.name ?? id,
    box: id => documents?.rig.boxes[id]?.name ?? id,
    place(id, position) {
      const found = laidOut(id)
      if (!found) return null
      const { timeline, song } = found
      const at = ticks(Math.min(position, Math.max(0, timeline.length - 1)))
      const section = sectionAt(timeline, at)
      const bar = Math.max(0, barBeatAt(timeline.meters, at).bar) + 1
      return { bar, ...(section && { section: song.sections[section.id]!.name }) }
    },
    length: id => laidOut(id)?.timeline.length ?? Number.POSITIVE_INFINITY,
  }
}

const timelines = new WeakMap<Song, Timeline>()
