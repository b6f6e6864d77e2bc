// Edits of a song's sections as wholes: their order, names, vamps and notes.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { id, name, note } from '../fields.ts'
import type { Show } from '../schema.ts'
import { type Section, type Song, sectionSchema } from '../song.ts'
import { freshCueIds } from './bake.ts'
import {
  inSong,
  placedBefore,
  put,
  requireNew,
  sectionOf,
  songOf,
  withFields,
  withSection,
} from './change.ts'
import { before, showEdit } from './edit.ts'
import { withoutSection } from './promote.ts'

const section = { song: id, section: id }

export const sectionEdits = {
  addSection: showEdit(
    { ...section, name, bars: sectionSchema.shape.bars, before },
    args => `Add ${args.name}`,
    (show, args) =>
      inSong(show, args.song, song => {
        requireNew(song.sections, args.section, 'section', song.title)
        const { name, bars } = args
        const added: Section = { name, bars, meters: [], tempo: [], vamp: false, cues: {} }
        return inserted(song, args.section, added, args.before)
      }),
  ),

  /** `mark`: the letter in the rehearsal mark; null: given in order. */
  renameSection: showEdit(
    { ...section, name: name.optional(), mark: sectionSchema.shape.mark.unwrap().nullable().optional() },
    (args, show) => `Rename ${nameOf(show, args)}`,
    (show, args) =>
      inSection(show, args, section => withFields(section, { name: args.name, mark: args.mark })),
  ),

  moveSection: showEdit(
    { ...section, before },
    (args, show) => `Move ${nameOf(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        sectionOf(song, args.section)
        return {
          ...song,
          sectionOrder: placedBefore(song.sectionOrder, args.section, args.before, song.title),
        }
      }),
  ),

  /**
   * Puts a second one after the section (or before another). `linked`: it repeats the section; the copy of a copy
   * repeats the same source either way.
   */
  duplicateSection: showEdit(
    { ...section, as: id, linked: z.boolean(), before: id.nullable().optional() },
    (args, show) => `${args.linked ? 'Repeat' : 'Duplicate'} ${nameOf(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const old = sectionOf(song, args.section)
        requireNew(song.sections, args.as, 'section', song.title)
        const next = song.sectionOrder[song.sectionOrder.indexOf(args.section) + 1] ?? null
        const link = { section: args.section, swatches: {}, trim: 1, freed: [] }
        const asCopy = args.linked && !old.sameAs
        const added = asCopy
          ? withFields(old, { sameAs: link, cues: {}, meters: [], tempo: [], score: null, mark: null })
          : withFields(old, { cues: copiedCues(song, old, args.as), mark: null })
        return inserted(song, args.as, added, args.before === undefined ? next : args.before)
      }),
  ),

  /** When other sections repeat it, the first of them takes its place; see `promote.ts`. */
  deleteSection: showEdit(
    section,
    (args, show) => `Delete ${nameOf(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        sectionOf(song, args.section)
        if (song.sectionOrder.length === 1) {
          throw new CodedError('edit.last', 'a song keeps at least one section', song.title)
        }
        return withoutSection(show, song, args.section)
      }),
  ),

  setVamp: showEdit(
    { ...section, vamp: z.boolean() },
    (args, show) => `${nameOf(show, args)}: ${args.vamp ? 'vamp' : 'no vamp'}`,
    (show, args) => inSection(show, args, section => ({ ...section, vamp: args.vamp })),
  ),

  /** The pencil note of a section, or of the song when no section is named; null: none. */
  setNote: showEdit(
    { song: id, section: id.optional(), note: note.nullable() },
    (args, show) =>
      `Note on ${args.section === undefined ? songOf(show, args.song).title : nameOf(show, { song: args.song, section: args.section })}`,
    (show, args) => {
      const { section, song, note } = args
      if (section === undefined) return inSong(show, song, old => withFields(old, { note }))
      return inSection(show, { song, section }, old => withFields(old, { note }))
    },
  ),
}

interface SectionRef {
  readonly song: string
  readonly section: string
}

const nameOf = (show: Show, { song, section }: SectionRef): string =>
  sectionOf(songOf(show, song), section).name

const inSection = (show: Show, { song, section }: SectionRef, change: (section: Section) => Section): Show =>
  inSong(show, song, old => withSection(old, section, change(sectionOf(old, section))))

const inserted = (song: Song, id: string, section: Section, next: string | null): Song => ({
  ...song,
  sections: put(song.sections, id, section),
  sectionOrder: placedBefore(song.sectionOrder, id, next, song.title),
})

/** The section's cues under new ids, in the same order. */
function copiedCues(song: Song, section: Section, as: string): Section['cues'] {
  const cues = Object.entries(section.cues).sort(([a], [b]) => (a < b ? -1 : 1))
  const ids = freshCueIds(song, as, cues.length)
  return Object.fromEntries(cues.map(([, cue], i) => [ids[i]!, cue]))
}
