// Remedies of a piece of advice that one click applies: what it says on the button, and the edits that do it.

import { CodedError } from '../../errors.ts'
import type { Documents } from '../../show/edits/edit.ts'
import { previewEdit, type Told } from '../../show/edits.ts'
import type { Advice } from '../advice.ts'
import { flashRemedies, heldRemedies } from './flash.ts'
import { powerRemedies } from './power.ts'
import { stageRemedies } from './stage.ts'

export interface Remedy {
  /** What it does, for the button. */
  readonly label: string
  /** Its name as one step back. */
  readonly says: string
  /** Together one step. They change the document only; what has to be done by hand as well, the label says. */
  readonly edits: readonly Told[]
}

/**
 * What one click could do about a piece of advice, the gentlest first; none where only hands can help, as with a fuse
 * or a cable. Worked out from the documents as they are now, so that nothing newer is written over. `kit`: the one
 * that was advised on.
 */
export function remediesOf(documents: Documents, kit: string, advice: Advice): Remedy[] {
  const { show } = documents
  const { song } = advice.place
  if (!show.kits[kit] || (song !== undefined && !show.songs[song])) return []
  return [
    ...flashRemedies(show, kit, advice),
    ...heldRemedies(show, kit, advice),
    ...powerRemedies(documents, kit, advice),
    ...stageRemedies(documents, kit, advice),
  ].filter(remedy => canApply(documents, remedy))
}

/** Whether the edits can be made: a cue may have gone since, or a light's place may be taken. */
function canApply(documents: Documents, { edits }: Remedy): boolean {
  try {
    let now = documents
    for (const [name, args] of edits) now = previewEdit(now, name, args)
    return true
  } catch (error) {
    if (error instanceof CodedError) return false
    throw error
  }
}
