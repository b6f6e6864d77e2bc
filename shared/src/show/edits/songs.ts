// Edits of the list of songs, and of what a song begins with.

import { z } from 'zod'
import { id, name } from '../fields.ts'
import { audioSchema, bpm, meterSchema, sectionSchema, songSchema } from '../song.ts'
import {
  inSong,
  placedBefore,
  put,
  requireNew,
  requireOwn,
  sectionOf,
  songOf,
  withFields,
  without,
  withSection,
} from './change.ts'
import { before, showEdit } from './edit.ts'

export const songEdits = {
  /** A new song with one empty section. */
  addSong: showEdit(
    {
      song: id,
      title: name,
      bpm,
      meter: meterSchema,
      section: id,
      sectionName: name,
      bars: z.int().min(1).max(999),
      before,
    },
    args => `Add "${args.title}"`,
    (show, args) => {
      requireNew(show.songs, args.song, 'song', show.name)
      const section = {
        name: args.sectionName,
        bars: args.bars,
        meters: [],
        tempo: [],
        vamp: false,
        cues: {},
      }
      const song = {
        title: args.title,
        bpm: args.bpm,
        meter: args.meter,
        sections: { [args.section]: section },
        sectionOrder: [args.section],
        tracks: {},
        trackOrder: [],
      }
      return {
        ...show,
        songs: put(show.songs, args.song, song),
        songOrder: placedBefore(show.songOrder, args.song, args.before, show.name),
      }
    },
  ),

  /** A song that was written elsewhere: read from a MIDI file, or copied from another show. */
  takeSong: showEdit(
    { song: id, value: songSchema, before },
    args => `Take in "${args.value.title}"`,
    (show, args) => {
      requireNew(show.songs, args.song, 'song', show.name)
      return {
        ...show,
        songs: put(show.songs, args.song, args.value),
        songOrder: placedBefore(show.songOrder, args.song, args.before, show.name),
      }
    },
  ),

  /** The recording that goes with a song; null: none. Its file must be in the data folder by then. */
  setAudio: showEdit(
    { song: id, audio: audioSchema.nullable() },
    (args, show) => `${args.audio ? 'Recording' : 'No recording'} of "${songOf(show, args.song).title}"`,
    (show, args) => inSong(show, args.song, song => withFields(song, { audio: args.audio })),
  ),

  /** Takes the place of a section's score; null: none. */
  setScore: showEdit(
    { song: id, section: id, score: sectionSchema.shape.score.unwrap().nullable() },
    (args, show) => `Score of ${sectionOf(songOf(show, args.song), args.section).name}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const old = sectionOf(song, args.section)
        requireOwn(song, old)
        return withSection(song, args.section, withFields(old, { score: args.score }))
      }),
  ),

  renameSong: showEdit(
    { song: id, title: name },
    (args, show) => `Rename "${songOf(show, args.song).title}"`,
    (show, args) => inSong(show, args.song, song => ({ ...song, title: args.title })),
  ),

  /** Whether the song is stepped through, without a click. */
  setStepped: showEdit(
    { song: id, stepped: z.boolean() },
    (args, show) => `${args.stepped ? 'Step through' : 'Play through'} "${songOf(show, args.song).title}"`,
    (show, args) =>
      inSong(show, args.song, song => withFields(song, { stepped: args.stepped ? true : null })),
  ),

  /** The musical key; null: none is said. */
  setKey: showEdit(
    { song: id, key: songSchema.shape.key.unwrap().nullable() },
    (args, show) => `Key of "${songOf(show, args.song).title}"`,
    (show, args) => inSong(show, args.song, song => withFields(song, { key: args.key })),
  ),

  /** The tempo and meter before any mark. Cues keep their ticks. */
  setSong: showEdit(
    { song: id, bpm: bpm.optional(), meter: meterSchema.optional() },
    (args, show) => `Tempo and meter of "${songOf(show, args.song).title}"`,
    (show, args) => inSong(show, args.song, song => withFields(song, { bpm: args.bpm, meter: args.meter })),
  ),

  moveSong: showEdit(
    { song: id, before },
    (args, show) => `Move "${songOf(show, args.song).title}"`,
    (show, args) => {
      songOf(show, args.song)
      return { ...show, songOrder: placedBefore(show.songOrder, args.song, args.before, show.name) }
    },
  ),

  /** Takes the song out of the set lists too. */
  deleteSong: showEdit(
    { song: id },
    (args, show) => `Delete "${songOf(show, args.song).title}"`,
    (show, args) => {
      songOf(show, args.song)
      const setLists = Object.entries(show.setLists).map(([listId, list]) => {
        const songs = list.songs.filter(entry => entry.song !== args.song)
        return [listId, songs.length === list.songs.length ? list : { ...list, songs }] as const
      })
      return {
        ...show,
        songs: without(show.songs, args.song),
        songOrder: show.songOrder.filter(other => other !== args.song),
        setLists: Object.fromEntries(setLists),
      }
    },
  ),

  /** The copy stands after the song. */
  duplicateSong: showEdit(
    { song: id, as: id, title: name },
    (args, show) => `Duplicate "${songOf(show, args.song).title}"`,
    (show, args) => {
      const song = songOf(show, args.song)
      requireNew(show.songs, args.as, 'song', show.name)
      const after = show.songOrder.indexOf(args.song) + 1
      return {
        ...show,
        songs: put(show.songs, args.as, { ...song, title: args.title }),
        songOrder: show.songOrder.toSpliced(after, 0, args.as),
      }
    },
  ),
}
