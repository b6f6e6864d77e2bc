// Which role each message of a page needs at least: the table that the app enforces and the page reads.

import type { PageMessage } from '../messages.ts'
import type { EditName } from '../show/edits.ts'
import type { Role } from './role.ts'

/** A type of message that has no line here does not compile. */
export const leastRole: Readonly<Record<PageMessage['type'], Role>> = {
  frames: 'viewer',
  clockPing: 'viewer',
  check: 'checker',
  edit: 'controller',
  undo: 'controller',
  transport: 'controller',
  live: 'controller',
  output: 'controller',
  discover: 'controller',
  version: 'controller',
  recover: 'controller',
  midiChoice: 'controller',
  releaseHouse: 'controller',
  midi: 'controller',
  // The code that is shown opens the show to another laptop.
  understudy: 'owner',
  access: 'owner',
}

/** Edits that write down what a line check finds. */
export const checkEdits: readonly EditName[] = ['setChecked', 'openFault', 'closeFault']

/** The least role for a message; an edit's depends on which it is. */
export function leastRoleFor(message: { type: PageMessage['type']; edit?: string }): Role {
  const { type, edit } = message
  return type === 'edit' && (checkEdits as readonly (string | undefined)[]).includes(edit)
    ? 'checker'
    : leastRole[type]
}
