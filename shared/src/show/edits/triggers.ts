// The edit of the triggers: which key, note or pedal asks for what.

import { z } from 'zod'
import { triggerSchema } from '../../trigger/trigger.ts'
import { withFields } from './change.ts'
import { showEdit } from './edit.ts'

export const triggerEdits = {
  /** Takes the place of all; null: those of a pedal with four buttons. */
  setTriggers: showEdit(
    { triggers: z.array(triggerSchema).max(256).nullable() },
    () => 'Triggers',
    (show, args) => withFields(show, { triggers: args.triggers }),
  ),
}
