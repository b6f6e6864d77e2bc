// Edits of the set lists, and which of them is played tonight. Songs of a list are known by their place in it, from 0.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { id, name } from '../fields.ts'
import { type SetList, type Show, setListSchema } from '../schema.ts'
import { found, put, songOf, withFields, without } from './change.ts'
import { showEdit } from './edit.ts'

type Entry = SetList['songs'][number]

const place = z.int().min(0).max(499)

const listOf = (show: Show, list: string): SetList => found(show.setLists, list, 'set list', show.name)

const inList = (show: Show, list: string, change: (list: SetList) => SetList): Show => ({
  ...show,
  setLists: put(show.setLists, list, change(listOf(show, list))),
})

/** @throws CodedError `edit.missing` */
function entryOf(list: SetList, at: number): Entry {
  const entry = list.songs[at]
  if (!entry) throw new CodedError('edit.missing', `there is no song ${at + 1} in it any more`, list.name)
  return entry
}

const titleAt = (show: Show, list: string, at: number): string =>
  songOf(show, entryOf(listOf(show, list), at).song).title

const entryFields = setListSchema.shape.songs.element.shape

const wordOf = ({ note, before }: { note?: unknown; before?: unknown }): string =>
  note !== undefined ? 'Note on' : before !== undefined ? 'Look before' : 'Start of'

export const setListEdits = {
  /** Adds the set list, or puts it in the place of the one with this id. */
  setSetList: showEdit(
    { list: id, value: setListSchema },
    args => `Set list ${args.value.name}`,
    (show, args) => ({ ...show, setLists: put(show.setLists, args.list, args.value) }),
  ),

  renameSetList: showEdit(
    { list: id, name },
    (args, show) => `Rename the set list ${listOf(show, args.list).name}`,
    (show, args) => inList(show, args.list, list => ({ ...list, name: args.name })),
  ),

  /** Tonight's list, where it was that, is then that of all songs in their order. */
  deleteSetList: showEdit(
    { list: id },
    (args, show) => `Delete the set list ${listOf(show, args.list).name}`,
    (show, args) => {
      listOf(show, args.list)
      const { tonightList, ...rest } = show
      return {
        ...rest,
        ...(tonightList !== undefined && tonightList !== args.list && { tonightList }),
        setLists: without(show.setLists, args.list),
      }
    },
  ),

  /** The set list that is played tonight; null: all songs in their order. */
  setTonightList: showEdit(
    { list: id.nullable() },
    (args, show) => (args.list === null ? 'All songs tonight' : `Tonight: ${listOf(show, args.list).name}`),
    (show, args) => {
      if (args.list !== null) listOf(show, args.list)
      return withFields(show, { tonightList: args.list })
    },
  ),

  /** @param args `at`: before the song that has this place; left out: last */
  addSetSong: showEdit(
    { list: id, song: id, at: place.optional() },
    (args, show) => `Add "${songOf(show, args.song).title}" to ${listOf(show, args.list).name}`,
    (show, args) => {
      songOf(show, args.song)
      return inList(show, args.list, list => ({
        ...list,
        songs: list.songs.toSpliced(args.at ?? list.songs.length, 0, { song: args.song }),
      }))
    },
  ),

  /** `to`: its place afterwards. */
  moveSetSong: showEdit(
    { list: id, from: place, to: place },
    (args, show) => `Move "${titleAt(show, args.list, args.from)}" in ${listOf(show, args.list).name}`,
    (show, args) =>
      inList(show, args.list, list => {
        const entry = entryOf(list, args.from)
        return { ...list, songs: list.songs.toSpliced(args.from, 1).toSpliced(args.to, 0, entry) }
      }),
  ),

  removeSetSong: showEdit(
    { list: id, at: place },
    (args, show) => `Take "${titleAt(show, args.list, args.at)}" out of ${listOf(show, args.list).name}`,
    (show, args) =>
      inList(show, args.list, list => {
        entryOf(list, args.at)
        return { ...list, songs: list.songs.toSpliced(args.at, 1) }
      }),
  ),

  /** A song's note, the look that stands before it, and its start on a timeline; null takes it out, left out it stays. */
  setSetSong: showEdit(
    {
      list: id,
      at: place,
      note: entryFields.note.unwrap().nullable().optional(),
      before: entryFields.before.unwrap().nullable().optional(),
      timecode: entryFields.timecode.unwrap().nullable().optional(),
      songPosition: entryFields.songPosition.unwrap().nullable().optional(),
    },
    (args, show) => `${wordOf(args)} "${titleAt(show, args.list, args.at)}"`,
    (show, args) =>
      inList(show, args.list, list => {
        const { note, before, timecode, songPosition } = args
        const entry = withFields(entryOf(list, args.at), { note, before, timecode, songPosition })
        return { ...list, songs: list.songs.toSpliced(args.at, 1, entry) }
      }),
  ),

  /** Whether program changes and song selects choose the songs of the list by their numbers. */
  setSetByNumber: showEdit(
    { list: id, on: z.boolean() },
    (args, show) =>
      `${args.on ? 'Songs by number in' : 'No songs by number in'} ${listOf(show, args.list).name}`,
    (show, args) => inList(show, args.list, list => withFields(list, { byNumber: args.on || null })),
  ),

  /** The looks before the first song and after the last, and the house look; null takes it out, left out it stays. */
  setSetLooks: showEdit(
    {
      list: id,
      walkIn: id.nullable().optional(),
      end: id.nullable().optional(),
      house: id.nullable().optional(),
    },
    (args, show) => `Looks of ${listOf(show, args.list).name}`,
    (show, args) =>
      inList(show, args.list, list =>
        withFields(list, { walkIn: args.walkIn, end: args.end, house: args.house }),
      ),
  ),
}
