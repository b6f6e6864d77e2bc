// Edits of cues as spans: adding, moving, resizing, splitting, joining, copying and deleting them.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { timelineOf } from '../../time/timeline.ts'
import type { Ticks } from '../../time/units.ts'
import { id, length, ticks } from '../fields.ts'
import type { Show } from '../schema.ts'
import { type Cue, cueSchema, type Song } from '../song.ts'
import { splitCue } from '../split.ts'
import { lengthOf } from './bake.ts'
import { found, inSong, sectionOf, songOf, withFields } from './change.ts'
import { showEdit } from './edit.ts'
import {
  type CueRef,
  changedCues,
  cueOf,
  cueRefs,
  namesOf,
  type Placing,
  withCues,
  withoutCues,
} from './place.ts'

const cues = { song: id, cues: cueRefs }
const oneCue = { song: id, section: id, cue: id }
const newCues = { song: id, section: id, cues: z.record(id, cueSchema) }

const names = (show: Show, args: { song: string; cues: readonly CueRef[] }): string =>
  namesOf(show, songOf(show, args.song), args.cues)

export const cueEdits = {
  /** New cues by id; each goes to the section it starts in, counted from the start of `section`. */
  addCues: showEdit(
    newCues,
    args => `Add ${count(Object.keys(args.cues).length)}`,
    (show, args) => inSong(show, args.song, song => withCues(song, placingsOf(args, 0))),
  ),

  /** Copied cues by new id, `at` ticks later than they say. */
  pasteCues: showEdit(
    { ...newCues, at: ticks },
    args => `Paste ${count(Object.keys(args.cues).length)}`,
    (show, args) => inSong(show, args.song, song => withCues(song, placingsOf(args, args.at))),
  ),

  /** Moves cues by ticks; `track`: all to another cue track; `section`: to the same place in another section. */
  moveCues: showEdit(
    { ...cues, by: ticks.default(0 as Ticks), track: id.optional(), section: id.optional() },
    (args, show) => `Move ${names(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        if (args.track !== undefined) found(song.tracks, args.track, 'cue track', song.title)
        const placings = args.cues.map((ref): Placing => {
          const cue = cueOf(song, ref)
          const at = (cue.at + args.by) as Ticks
          return {
            cue: ref.cue,
            section: args.section ?? ref.section,
            value: withFields(cue, { at, track: args.track }),
          }
        })
        return withCues(withoutCues(song, args.cues), placings)
      }),
  ),

  /**
   * Puts a cue's start and length. The points of its level keep their place on the chart; its motion begins with it,
   * unless a split gave it another origin, which keeps its place too.
   */
  resizeCue: showEdit(
    { ...oneCue, at: ticks, length },
    (args, show) => `Length of ${names(show, { song: args.song, cues: [args] })}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const cue = cueOf(song, args)
        const value = { ...startingAt(cue, args.at), length: args.length }
        return withCues(withoutCues(song, [args]), [{ section: args.section, cue: args.cue, value }])
      }),
  ),

  /** `name` null: none. */
  renameCues: showEdit(
    { ...cues, name: cueSchema.shape.name.unwrap().min(1).nullable() },
    (args, show) => `Rename ${names(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song =>
        changedCues(song, args.cues, cue => withFields(cue, { name: args.name })),
      ),
  ),

  deleteCues: showEdit(
    cues,
    (args, show) => `Delete ${names(show, args)}`,
    (show, args) => inSong(show, args.song, song => withoutCues(song, args.cues)),
  ),

  /**
   * Cuts a cue `offset` ticks after its start; `right` is the id of the second half. The light stays as it is: refused
   * where a copy of the section would no longer play what it did.
   */
  splitCue: showEdit(
    { ...oneCue, offset: length, right: id },
    (args, show) => `Split ${names(show, { song: args.song, cues: [args] })}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const cue = cueOf(song, args)
        const [left, right] = splitCue(cue, args.offset)
        const shorter = changedCues(song, [args], () => left)
        const split = withCues(shorter, [{ section: args.section, cue: args.right, value: right }])
        requireCopiesAlike(song, split, args.section, cue, args.right)
        return split
      }),
  ),

  /** Makes one cue of two that touch on a track: the light and start of the first, the end of the second. */
  joinCues: showEdit(
    { song: id, left: cueRefs.element, right: cueRefs.element },
    (args, show) => `Join ${names(show, { song: args.song, cues: [args.left] })}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const [left, right] = [cueOf(song, args.left), cueOf(song, args.right)]
        const touching = left.at + left.length === right.at && left.track === right.track
        if (!touching || args.left.section !== args.right.section) {
          throw new CodedError(
            'edit.invalid',
            'only cues that touch on one track of a section can be joined',
            song.title,
          )
        }
        const length = (left.length + right.length) as Ticks
        const joined = withFields(left, { length, fadeOut: right.fadeOut ?? null })
        return changedCues(withoutCues(song, [args.right]), [args.left], () => joined)
      }),
  ),

  /** Fades of a length in ticks with a curve; null: none; left out: as it is. */
  setCueFades: showEdit(
    {
      ...cues,
      fadeIn: cueSchema.shape.fadeIn.unwrap().nullable().optional(),
      fadeOut: cueSchema.shape.fadeOut.unwrap().nullable().optional(),
    },
    (args, show) => `Fades of ${names(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const { fadeIn, fadeOut } = args
        return changedCues(song, args.cues, cue => withFields(cue, { fadeIn, fadeOut }))
      }),
  ),
}

const count = (cues: number): string => (cues === 1 ? 'a cue' : `${cues} cues`)

const placingsOf = (args: { section: string; cues: Record<string, Cue> }, later: number): Placing[] =>
  Object.entries(args.cues).map(([cue, value]) => ({
    section: args.section,
    cue,
    value: { ...value, at: (value.at + later) as Ticks },
  }))

/**
 * @param whole the cue of `from` that a split has left two halves of, the second as `right`
 * @throws CodedError `edit.linked` when a copy would no longer play it as it does: the second half went to another
 *   section, or is lost behind the end of a copy that plays more of the whole
 */
function requireCopiesAlike(before: Song, after: Song, from: string, whole: Cue, right: string): void {
  const { track, at, length } = whole
  const timeline = timelineOf(before)
  const changed = before.sectionOrder.filter(id => after.sections[id] !== before.sections[id])
  const runsOn = at + length > lengthOf(timeline, from)
  const cut = after.sections[from]!.cues[right]?.at
  const copy = before.sectionOrder.find(id => {
    const { sameAs } = before.sections[id]!
    if (!sameAs || !changed.includes(sameAs.section) || sameAs.freed.includes(track)) return false
    return cut === undefined || (runsOn && cut >= lengthOf(timeline, id))
  })
  if (copy === undefined) return
  const says = `after the cut, "${before.sections[copy]!.name}" would no longer play all of the cue that it does`
  throw new CodedError('edit.linked', says, `${before.title}: ${sectionOf(before, from).name}`)
}

function startingAt(cue: Cue, at: Ticks): Cue {
  const earlier = cue.at - at
  const later = (place: number): Ticks => (place + earlier) as Ticks
  const { light, origin } = cue
  const level = 'look' in light || typeof light.level === 'number' ? undefined : light.level
  return {
    ...cue,
    at,
    origin: origin === 0 ? origin : later(origin),
    light:
      level && !('look' in light) ? { ...light, level: level.map(p => ({ ...p, at: later(p.at) })) } : light,
  }
}
