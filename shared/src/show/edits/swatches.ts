// Edits of the swatches: the show's named colours.

import { CodedError } from '../../errors.ts'
import { hex, id, name } from '../fields.ts'
import type { Show } from '../schema.ts'
import { found, put, requireNew, withFields, without } from './change.ts'
import { showEdit } from './edit.ts'
import { mapLights, withColours } from './light.ts'

const swatchOf = (show: Show, swatch: string) => found(show.swatches, swatch, 'swatch', show.name)

export const swatchEdits = {
  addSwatch: showEdit(
    { swatch: id, name, hex },
    args => `Add the swatch ${args.name}`,
    (show, args) => {
      requireNew(show.swatches, args.swatch, 'swatch', show.name)
      return { ...show, swatches: put(show.swatches, args.swatch, { name: args.name, hex: args.hex }) }
    },
  ),

  setSwatch: showEdit(
    { swatch: id, name: name.optional(), hex: hex.optional() },
    (args, show) => `Swatch ${swatchOf(show, args.swatch).name}`,
    (show, args) => {
      const swatch = withFields(swatchOf(show, args.swatch), { name: args.name, hex: args.hex })
      return { ...show, swatches: put(show.swatches, args.swatch, swatch) }
    },
  ),

  /** Lights keep its colour as their own. Refused while a section that repeats another replaces it or by it. */
  deleteSwatch: showEdit(
    { swatch: id },
    (args, show) => `Delete the swatch ${swatchOf(show, args.swatch).name}`,
    (show, args) => {
      const { name, hex } = swatchOf(show, args.swatch)
      const users = usersOf(show, args.swatch)
      if (users.length > 0) {
        throw new CodedError('edit.used', `the swatch ${name} is replaced in: ${users.join(', ')}`, show.name)
      }
      const changed = mapLights(show, light =>
        withColours(light, colour =>
          'swatch' in colour && colour.swatch === args.swatch ? { hex } : colour,
        ),
      )
      return { ...changed, swatches: without(show.swatches, args.swatch) }
    },
  ),
}

/** The copied sections whose replaced swatches name this one: "Ferrous, Chorus 2". */
const usersOf = (show: Show, swatch: string): string[] =>
  Object.values(show.songs).flatMap(song =>
    Object.values(song.sections)
      .filter(({ sameAs }) => Object.entries(sameAs?.swatches ?? {}).some(pair => pair.includes(swatch)))
      .map(section => `${song.title}, ${section.name}`),
  )
