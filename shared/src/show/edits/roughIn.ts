// The edit that writes a first draft of a song's cues; taken back, all of it goes.

import { z } from 'zod'
import { CodedError } from '../../errors.ts'
import { id } from '../fields.ts'
import { moodNames } from '../rough-in/moods.ts'
import { roughIn } from '../rough-in/rough-in.ts'
import { sectionOf, songOf } from './change.ts'
import { showEdit } from './edit.ts'

export const roughInEdits = {
  /** `moods`: by section; a section left out stays as it is, as a copy does. Another seed gives another draft. */
  roughIn: showEdit(
    { song: id, moods: z.record(id, z.enum(moodNames)), seed: z.int().min(0).max(0xffffffff) },
    (args, show) => `Rough in "${songOf(show, args.song).title}"`,
    (show, args) => {
      const song = songOf(show, args.song)
      for (const section of Object.keys(args.moods)) sectionOf(song, section)
      if (show.partOrder.length === 0) {
        throw new CodedError('edit.noParts', 'the show has no part to write cues for', show.name)
      }
      return roughIn(show, args.song, args.moods, args.seed)
    },
  ),
}
