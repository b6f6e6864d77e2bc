// The colours of a cue as the renderer reads them: swatches looked up, gradients as tables.

import { CodedError } from '../errors.ts'
import { gradientTable } from '../light/gradient.ts'
import type { Colour, Colours } from '../light/schema.ts'
import { linearOfHex } from '../light/srgb.ts'
import type { Show } from '../show/schema.ts'

/** Tables kept: more than any song has, and no more than some megabytes while a colour is dragged through a thousand. */
const MOST_KEPT = 2000

/**
 * Makes a function that gives the table of a cue's colours, three numbers for a single one; equal colours share one
 * table.
 * @throws CodedError `document.swatch` naming a swatch that the show has not.
 */
export function colourTables(
  show: Show,
): (colours: Colours, swatches: Readonly<Record<string, string>>) => Float32Array {
  const tables = new Map<string, Float32Array>()
  const hexOf = (colour: Colour, swatches: Readonly<Record<string, string>>): string => {
    if ('hex' in colour) return colour.hex
    const id = swatches[colour.swatch] ?? colour.swatch
    const swatch = show.swatches[id]
    if (!swatch) throw new CodedError('document.swatch', `there is no swatch "${id}"`, `swatches.${id}`)
    return swatch.hex
  }
  return (colours, swatches) => {
    const stops =
      colours.along === 'none'
        ? [{ at: 0, hex: hexOf(colours.colour, swatches) }]
        : colours.stops.map(stop => ({ at: stop.at, hex: hexOf(stop.colour, swatches) }))
    const key = stops.map(stop => `${stop.at}${stop.hex}`).join(' ')
    const known = tables.get(key)
    if (known) return known
    const linear = stops.map(stop => ({ at: stop.at, colour: linearOfHex(stop.hex) }))
    const table = colours.along === 'none' ? Float32Array.from(linear[0]!.colour) : gradientTable(linear)
    if (tables.size >= MOST_KEPT) tables.clear()
    tables.set(key, table)
    return table
  }
}
