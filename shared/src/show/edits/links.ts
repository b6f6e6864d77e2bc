// Edits of the link by which a section repeats another.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { timelineOf } from '../../time/timeline.ts'
import { id, share } from '../fields.ts'
import type { Show } from '../schema.ts'
import type { Section, Song } from '../song.ts'
import { keptInTime, tracksFreed, unlinked } from './bake.ts'
import { found, inSong, sectionOf, songOf, withFields, withSection } from './change.ts'
import { showEdit } from './edit.ts'

const section = { song: id, section: id }
const swatches = z.record(id, id)

export const linkEdits = {
  /**
   * Makes a section repeat another one. It keeps its name, length and vamp, and its cues on the tracks of `freed`;
   * its other cues, its tempo marks, its meters and its score go.
   */
  linkSection: showEdit(
    {
      ...section,
      to: id,
      swatches: swatches.default({}),
      trim: share.default(1),
      freed: z.array(id).default([]),
    },
    (args, show) => {
      const song = songOf(show, args.song)
      return `${sectionOf(song, args.section).name} repeats ${sectionOf(song, args.to).name}`
    },
    (show, args) =>
      inSong(show, args.song, song => {
        const old = sectionOf(song, args.section)
        const copy = song.sectionOrder.find(other => song.sections[other]!.sameAs?.section === args.section)
        if (copy !== undefined) {
          const says = `"${sectionOf(song, copy).name}" repeats this section, so it cannot repeat another`
          throw new CodedError('edit.linked', says, `${song.title}: ${old.name}`)
        }
        sectionOf(song, args.to)
        const { to, swatches, trim, freed } = args
        const cues = cuesOn(old, freed)
        const sameAs = { section: to, swatches, trim, freed }
        return withSection(
          song,
          args.section,
          withFields(old, { sameAs, cues, meters: [], tempo: [], score: null }),
        )
      }),
  ),

  /** What a copy replaces: swatches (from → to) and the trim of its levels. */
  setLink: showEdit(
    { ...section, swatches: swatches.optional(), trim: share.optional() },
    (args, show) => `Colours and trim of ${sectionOf(songOf(show, args.song), args.section).name}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const { old, link } = linkOf(song, args.section)
        const { swatches, trim } = args
        const sameAs = { ...link, swatches: swatches ?? link.swatches, trim: trim ?? link.trim }
        return withSection(song, args.section, { ...old, sameAs })
      }),
  ),

  /** Gives a copy cues, tempo and meters of its own; nothing sounds or looks different. */
  unlinkSection: showEdit(
    section,
    (args, show) => `Unlink ${sectionOf(songOf(show, args.song), args.section).name}`,
    (show, args) =>
      inSong(show, args.song, song => {
        linkOf(song, args.section)
        return keptInTime(unlinked(show, song, args.section), args.section, timelineOf(song))
      }),
  ),

  /** Gives a copy its own cues on one track; nothing looks different. */
  freeTrack: showEdit(
    { ...section, track: id },
    (args, show) => `Free ${trackName(show, args.song, args.track)} in ${sectionName(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        linkOf(song, args.section)
        found(song.tracks, args.track, 'cue track', song.title)
        return tracksFreed(show, song, args.section, [args.track])
      }),
  ),

  /** Puts a freed track back under the link: the copy's own cues on it go. */
  relinkTrack: showEdit(
    { ...section, track: id },
    (args, show) => `Relink ${trackName(show, args.song, args.track)} in ${sectionName(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const { old, link } = linkOf(song, args.section)
        const freed = link.freed.filter(track => track !== args.track)
        return withSection(song, args.section, {
          ...old,
          sameAs: { ...link, freed },
          cues: cuesOn(old, freed),
        })
      }),
  ),
}

const sectionName = (show: Show, args: { song: string; section: string }): string =>
  sectionOf(songOf(show, args.song), args.section).name

const trackName = (show: Show, song: string, track: string): string => {
  const { part } = found(songOf(show, song).tracks, track, 'cue track', songOf(show, song).title)
  return show.parts[part]!.name
}

const cuesOn = (section: Section, tracks: readonly string[]): Section['cues'] =>
  Object.fromEntries(Object.entries(section.cues).filter(([, cue]) => tracks.includes(cue.track)))

/** @throws CodedError `edit.missing` when the section repeats nothing */
function linkOf(song: Song, id: string): { old: Section; link: NonNullable<Section['sameAs']> } {
  const old = sectionOf(song, id)
  if (old.sameAs) return { old, link: old.sameAs }
  throw new CodedError('edit.missing', 'the section repeats no other', `${song.title}: ${old.name}`)
}
