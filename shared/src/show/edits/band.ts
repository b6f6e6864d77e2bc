// Edits of what the show says of itself: the band's name and where its light is sent.

import { name } from '../fields.ts'
import { outputSchema } from '../output.ts'
import { showEdit } from './edit.ts'

export const bandEdits = {
  renameShow: showEdit(
    { name },
    (_args, show) => `Rename ${show.name}`,
    (show, args) => ({ ...show, name: args.name }),
  ),

  setOutput: showEdit(
    { output: outputSchema },
    () => 'Where the light is sent',
    (show, args) => ({ ...show, output: args.output }),
  ),
}
