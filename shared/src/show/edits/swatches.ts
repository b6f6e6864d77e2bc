// Edits of the swatches: the show's named colours.

import { CodedError } from '../../errors.ts'
import { hex, id, name } from '../fields.ts'
import type { Show } from '../schema.ts'
import { found, inSongs, put, requireNew, withFields, without } from './change.ts'
import { showEdit } from './edit.ts'
import { mapLights, swapped, withColours } from './light.ts'

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

  /**
   * Lights take the swatch `by` for it, or keep its colour as their own. Without `by`, refused while a section that
   * repeats another replaces it or by it.
   */
  deleteSwatch: showEdit(
    { swatch: id, by: id.optional() },
    (args, show) => `Delete the swatch ${swatchOf(show, args.swatch).name}`,
    (show, args) => {
      const { name, hex } = swatchOf(show, args.swatch)
      if (args.by !== undefined) return withSwatchBy(show, args.swatch, args.by)
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

/** The show with one swatch gone and another in its place, in lights and in the copied sections. */
function withSwatchBy(show: Show, gone: string, by: string): Show {
  const replacement = swatchOf(show, by)
  if (by === gone)
    throw new CodedError('edit.invalid', `${replacement.name} cannot take its own place`, show.name)
  const changed = mapLights(show, light => swapped(light, { [gone]: by }))
  const linked = inSongs(changed, section => {
    const { sameAs } = section
    if (!sameAs || !Object.entries(sameAs.swatches).some(pair => pair.includes(gone))) return section
    const pairs = Object.entries(sameAs.swatches)
      // What replaced the one that is gone would now replace the other everywhere: that one keeps its own rule.
      .filter(([from]) => from !== gone || !Object.hasOwn(sameAs.swatches, by))
      .map(([from, to]) => [from === gone ? by : from, to === gone ? by : to])
    return { ...section, sameAs: { ...sameAs, swatches: Object.fromEntries(pairs) } }
  })
  return { ...linked, swatches: without(linked.swatches, gone) }
}
