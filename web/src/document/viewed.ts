// What is on the page: the song chosen, laid out in time, and tonight's stage. Made anew only when its document changes.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { type Stage, stageOf } from '@glowchart/shared/rig/stage.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { type CuePlace, cuePlaces, type Timeline, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { useMemo } from 'react'
import { useDocument } from './document.ts'
import { useSession } from './session.ts'

export interface ViewedSong {
  readonly id: string
  readonly song: Song
  readonly timeline: Timeline
}

const laidOut = new WeakMap<Song, Timeline>()
let latest: { readonly id: string; readonly timeline: Timeline } | null = null

/** The song on the page, or the first of the show; null when the show has none. Usable outside of React. */
export function viewedSong(show: Show | null, chosen: string | null): ViewedSong | null {
  const id = chosen !== null && show?.songs[chosen] ? chosen : show?.songOrder[0]
  const song = id === undefined ? undefined : show?.songs[id]
  if (id === undefined || !song) return null
  let timeline = laidOut.get(song)
  if (!timeline) {
    timeline = timelineOf(song)
    // Most edits leave it as it is, and what is drawn from it can stay.
    if (latest?.id === id && sameValue(latest.timeline, timeline)) timeline = latest.timeline
    else latest = { id, timeline }
    laidOut.set(song, timeline)
  }
  return { id, song, timeline }
}

const placed = new WeakMap<Song, readonly CuePlace[]>()

/** Every cue of the song as played, in order of time: the same list till the song is another one. */
export function placesOf({ song, timeline }: ViewedSong): readonly CuePlace[] {
  let places = placed.get(song)
  if (!places) {
    places = cuePlaces(song, timeline)
    placed.set(song, places)
  }
  return places
}

export function useViewedSong(): ViewedSong | null {
  const show = useDocument(s => s.show)
  const chosen = useSession(s => s.song)
  return useMemo(() => viewedSong(show, chosen), [show, chosen])
}

/** The same, read at the moment of a key press. */
export const viewedSongNow = (): ViewedSong | null =>
  viewedSong(useDocument.getState().show, useSession.getState().song)

export interface Tonight {
  readonly kit: Kit
  readonly stage: Stage
}

export const tonightOf = (rig: Rig, kit: Kit): Tonight => ({ kit, stage: stageOf(rig, kit) })

export function useTonight(): Tonight | null {
  const rig = useDocument(s => s.rig)
  const kit = useDocument(s => s.show?.kits[s.show.tonight])
  return useMemo(() => (rig && kit ? tonightOf(rig, kit) : null), [rig, kit])
}
