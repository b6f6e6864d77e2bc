// Rough-in: from a song's sections and a mood for each, a first draft of cues for every part.

import { timelineOf } from '../../time/timeline.ts'
import type { Show } from '../schema.ts'
import type { Cue, Song } from '../song.ts'
import { scenesOf } from './casting.ts'
import { idFor } from './chance.ts'
import type { Mood } from './moods.ts'
import { tintsOf } from './palette.ts'
import { writtenCues } from './scene.ts'

/**
 * The show with cues for the song's sections by their moods, from the section's id. Sections without a mood stay as
 * they are, copies follow their sources, and where a part has cues in a section already, those stay and no others
 * come. Parts without a cue track that covers get one. Equal arguments give equal shows, ids too.
 * @param songId a song of the show
 * @param seed chooses among parts, colours and motions
 */
export function roughIn(
  show: Show,
  songId: string,
  moods: Readonly<Record<string, Mood>>,
  seed: number,
): Show {
  const before = show.songs[songId]!
  const timeline = timelineOf(before)
  const scenes = scenesOf(timeline, moods, show.partOrder, seed)
  if (scenes.length === 0) return show
  const { song, trackOf } = withTracks(before, show.partOrder, seed)
  const tints = tintsOf(show, seed)
  const sections = { ...song.sections }
  for (const scene of scenes) {
    const section = sections[scene.section]!
    const cues: Record<string, Cue> = { ...section.cues }
    const kept = new Set(Object.values(section.cues).map(cue => song.tracks[cue.track]!.part))
    for (const { part, cue } of writtenCues(before, timeline, scene, tints(scene.mood), seed)) {
      if (kept.has(part)) continue
      const track = trackOf.get(part)!
      cues[idFor(seed, `${scene.section} ${track} ${cue.at}`, cues)] = { ...cue, track }
    }
    sections[scene.section] = { ...section, cues }
  }
  return { ...show, songs: { ...show.songs, [songId]: { ...song, sections } } }
}

/** The song with a track that covers for every part, and which that is: one that is there, or a new one. */
function withTracks(
  song: Song,
  parts: readonly string[],
  seed: number,
): { song: Song; trackOf: ReadonlyMap<string, string> } {
  const tracks = { ...song.tracks }
  const trackOrder = [...song.trackOrder]
  const trackOf = new Map<string, string>()
  for (const part of parts) {
    const own = trackOrder.filter(id => tracks[id]!.part === part)
    const there = own.find(id => tracks[id]!.merge === 'cover' && !tracks[id]!.muted)
    const track = there ?? idFor(seed, `track ${part}`, tracks)
    trackOf.set(part, track)
    if (there !== undefined) continue
    tracks[track] = { part, merge: 'cover', muted: false }
    // Above the part's other tracks, so that it covers none of them.
    trackOrder.splice(own.length > 0 ? trackOrder.indexOf(own[0]!) : trackOrder.length, 0, track)
  }
  return { song: { ...song, tracks, trackOrder }, trackOf }
}
