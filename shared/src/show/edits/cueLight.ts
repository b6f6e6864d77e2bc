// Edits of what cues shine: their own light, or a look's.

import { CodedError } from '../../errors.ts'
import { lightSchema } from '../../light/schema.ts'
import { id } from '../fields.ts'
import type { Show } from '../schema.ts'
import { found, inSong, songOf } from './change.ts'
import { showEdit } from './edit.ts'
import { lightOf } from './light.ts'
import { type CueRef, changedCues, cueOf, cueRefs, namesOf } from './place.ts'

const cues = { song: id, cues: cueRefs }

const names = (show: Show, args: { song: string; cues: readonly CueRef[] }): string =>
  namesOf(show, songOf(show, args.song), args.cues)

export const cueLightEdits = {
  /** A light of their own for all the cues; those of a look are freed from it. */
  setCueLight: showEdit(
    { ...cues, light: lightSchema },
    (args, show) => `Light of ${names(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song => changedCues(song, args.cues, cue => ({ ...cue, light: args.light }))),
  ),

  /** Refused for cues of a look: their level is the look's. */
  setCueLevel: showEdit(
    { ...cues, level: lightSchema.shape.level },
    (args, show) => `Level of ${names(show, args)}`,
    (show, args) =>
      inSong(show, args.song, song =>
        changedCues(song, args.cues, cue => {
          if (!('look' in cue.light)) return { ...cue, light: { ...cue.light, level: args.level } }
          const look = show.looks[cue.light.look]!.name
          throw new CodedError('edit.look', `the level of this cue comes from the look "${look}"`, song.title)
        }),
      ),
  ),

  /** The look needs a light for the part of every cue. */
  linkCueToLook: showEdit(
    { ...cues, look: id },
    (args, show) => `${names(show, args)} from ${found(show.looks, args.look, 'look', show.name).name}`,
    (show, args) =>
      inSong(show, args.song, song => {
        const look = found(show.looks, args.look, 'look', show.name)
        for (const ref of args.cues) {
          const { part } = song.tracks[cueOf(song, ref).track]!
          if (!Object.hasOwn(look.parts, part)) {
            const says = `the look "${look.name}" has nothing for ${show.parts[part]!.name}`
            throw new CodedError('edit.look', says, song.title)
          }
        }
        return changedCues(song, args.cues, cue => ({ ...cue, light: { look: args.look } }))
      }),
  ),

  /** Gives cues of a look that light as their own; nothing looks different. */
  freeCueFromLook: showEdit(
    cues,
    (args, show) => `Free ${names(show, args)} from its look`,
    (show, args) =>
      inSong(show, args.song, song =>
        changedCues(song, args.cues, cue => ({
          ...cue,
          light: lightOf(show, song.tracks[cue.track]!.part, cue),
        })),
      ),
  ),
}
