// Edits of a song's cue tracks.

import { id } from '../fields.ts'
import type { Show } from '../schema.ts'
import { type Section, trackSchema } from '../song.ts'
import {
  found,
  inSong,
  mapSections,
  placedBefore,
  put,
  requireNew,
  songOf,
  withFields,
  without,
} from './change.ts'
import { before, showEdit } from './edit.ts'

const { merge, muted } = trackSchema.shape
const track = { song: id, track: id }

export const trackEdits = {
  addTrack: showEdit(
    { ...track, part: id, merge, before },
    (args, show) => `Add a cue track for ${found(show.parts, args.part, 'part', show.name).name}`,
    (show, args) =>
      inSong(show, args.song, song => {
        requireNew(song.tracks, args.track, 'cue track', song.title)
        const { part, merge } = args
        return {
          ...song,
          tracks: put(song.tracks, args.track, { part, merge, muted: false }),
          trackOrder: placedBefore(song.trackOrder, args.track, args.before, song.title),
        }
      }),
  ),

  moveTrack: showEdit(
    { ...track, before },
    (args, show) => `Move ${trackName(show, args.song, args.track)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        trackName(show, args.song, args.track)
        return { ...song, trackOrder: placedBefore(song.trackOrder, args.track, args.before, song.title) }
      }),
  ),

  setTrack: showEdit(
    { ...track, part: id.optional(), merge: merge.unwrap().optional(), muted: muted.unwrap().optional() },
    (args, show) => trackName(show, args.song, args.track),
    (show, args) =>
      inSong(show, args.song, song => {
        const old = found(song.tracks, args.track, 'cue track', song.title)
        const { part, merge, muted } = args
        return { ...song, tracks: put(song.tracks, args.track, withFields(old, { part, merge, muted })) }
      }),
  ),

  /** With all its cues. */
  deleteTrack: showEdit(
    track,
    (args, show) => `Delete ${trackName(show, args.song, args.track)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        trackName(show, args.song, args.track)
        return mapSections(
          {
            ...song,
            tracks: without(song.tracks, args.track),
            trackOrder: song.trackOrder.filter(other => other !== args.track),
          },
          section => sectionWithout(section, args.track),
        )
      }),
  ),
}

/** "Tubes", or "Tubes, track 2": a track has no name of its own. */
function trackName(show: Show, songId: string, id: string): string {
  const song = songOf(show, songId)
  const { part } = found(song.tracks, id, 'cue track', song.title)
  const ofPart = song.trackOrder.filter(other => song.tracks[other]!.part === part)
  const place = ofPart.length > 1 ? `, track ${ofPart.indexOf(id) + 1}` : ''
  return `${show.parts[part]!.name}${place}`
}

function sectionWithout(section: Section, track: string): Section {
  const cues = Object.entries(section.cues).filter(([, cue]) => cue.track !== track)
  const freed = section.sameAs?.freed.filter(other => other !== track)
  if (cues.length === Object.keys(section.cues).length && freed?.length === section.sameAs?.freed.length)
    return section
  const left = { ...section, cues: Object.fromEntries(cues) }
  return section.sameAs ? { ...left, sameAs: { ...section.sameAs, freed: freed! } } : left
}
