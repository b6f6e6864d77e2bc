// Edits of the triggers: which key, note or pedal asks for what, and where Open Sound Control is heard.

import { z } from 'zod'
import { oscSchema } from '../../osc/schema.ts'
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

  /** Null: nowhere. */
  setOsc: showEdit(
    { osc: oscSchema.nullable() },
    args => (args.osc ? `Hear OSC at port ${args.osc.port}` : 'Hear no OSC'),
    (show, args) => withFields(show, { osc: args.osc }),
  ),
}
