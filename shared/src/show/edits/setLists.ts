// Edits of the set lists.

import { id } from '../fields.ts'
import { type Show, setListSchema } from '../schema.ts'
import { found, put, without } from './change.ts'
import { showEdit } from './edit.ts'

const nameOf = (show: Show, list: string): string => found(show.setLists, list, 'set list', show.name).name

export const setListEdits = {
  /** Adds the set list, or puts it in the place of the one with this id. */
  setSetList: showEdit(
    { list: id, value: setListSchema },
    args => `Set list ${args.value.name}`,
    (show, args) => ({ ...show, setLists: put(show.setLists, args.list, args.value) }),
  ),

  deleteSetList: showEdit(
    { list: id },
    (args, show) => `Delete the set list ${nameOf(show, args.list)}`,
    (show, args) => {
      nameOf(show, args.list)
      return { ...show, setLists: without(show.setLists, args.list) }
    },
  ),
}
