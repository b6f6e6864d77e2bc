// Edits of the show's parts: names and places in the chart's order.

import { CodedError } from '../../errors.ts'
import { id, name } from '../fields.ts'
import type { Kit, Show } from '../schema.ts'
import { found, mapped, placedBefore, put, requireNew, withFields, without } from './change.ts'
import { before, showEdit } from './edit.ts'

const partOf = (show: Show, part: string) => found(show.parts, part, 'part', show.name)

export const partEdits = {
  addPart: showEdit(
    { part: id, name, before },
    args => `Add the part ${args.name}`,
    (show, args) => {
      requireNew(show.parts, args.part, 'part', show.name)
      return {
        ...show,
        parts: put(show.parts, args.part, { name: args.name }),
        partOrder: placedBefore(show.partOrder, args.part, args.before, show.name),
      }
    },
  ),

  renamePart: showEdit(
    { part: id, name },
    (args, show) => `Rename the part ${partOf(show, args.part).name}`,
    (show, args) => {
      return { ...show, parts: put(show.parts, args.part, { ...partOf(show, args.part), name: args.name }) }
    },
  ),

  movePart: showEdit(
    { part: id, before },
    (args, show) => `Move the part ${partOf(show, args.part).name}`,
    (show, args) => {
      partOf(show, args.part)
      return { ...show, partOrder: placedBefore(show.partOrder, args.part, args.before, show.name) }
    },
  ),

  /** Refused while a song has a cue track of the part; takes it out of kits and looks. */
  deletePart: showEdit(
    { part: id },
    (args, show) => `Delete the part ${partOf(show, args.part).name}`,
    (show, args) => {
      const part = partOf(show, args.part)
      const users = Object.values(show.songs).filter(song =>
        Object.values(song.tracks).some(track => track.part === args.part),
      )
      if (users.length > 0) {
        const titles = users.map(song => song.title).join(', ')
        throw new CodedError('edit.used', `the part ${part.name} has cue tracks in: ${titles}`, show.name)
      }
      return {
        ...show,
        parts: without(show.parts, args.part),
        partOrder: show.partOrder.filter(other => other !== args.part),
        kits: mapped(show.kits, kit => kitWithoutPart(kit, args.part)),
        looks: mapped(show.looks, look =>
          Object.hasOwn(look.parts, args.part) ? { ...look, parts: without(look.parts, args.part) } : look,
        ),
      }
    },
  ),
}

function kitWithoutPart(kit: Kit, part: string): Kit {
  const rest = Object.hasOwn(kit.parts, part) ? without(kit.parts, part) : kit.parts
  const parts = mapped(rest, other => (other.standIn === part ? withFields(other, { standIn: null }) : other))
  return parts === kit.parts ? kit : { ...kit, parts }
}
