// What is another after an edit, in the documents and in the piece: the frame loop is sent no more than that.

import { CodedError } from '@glowchart/shared/errors.ts'
import type { CompiledTrack } from '@glowchart/shared/render/compiled.ts'
import { afterChange, type Changed } from '@glowchart/shared/show/change.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Piece } from './player.ts'

/**
 * The tracks of a piece for a loop that has another one, with only the id of those it has; null when more than the
 * tracks is another. Cloning a long song whole would hold up a frame.
 */
export function tracksOnTop(before: Piece, after: Piece): (CompiledTrack | string)[] | null {
  const [a, b] = [before.compiled, after.compiled]
  if (before.song !== after.song || before.look !== after.look || before.plan !== after.plan) return null
  if (
    a.stage !== b.stage ||
    a.parts !== b.parts ||
    a.power !== b.power ||
    a.timeline !== b.timeline ||
    a.venue !== b.venue ||
    !sameValue(before.startsAt, after.startsAt)
  )
    return null
  const had = new Set(a.tracks)
  return b.tracks.map(track => (had.has(track) ? track.id : track))
}

/** Null when the change was made on other documents than those held. */
export function changedFrom(held: Documents, changed: Changed): Documents | null {
  try {
    return afterChange(held, changed)
  } catch (error) {
    if (error instanceof CodedError) return null
    throw error
  }
}
