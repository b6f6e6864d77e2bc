// The colours of a light as the panel handles them: a list of stops, one of them when there is no gradient.

import type { Colour, Colours, Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'

export interface Stop {
  at: number
  colour: Colour
}
export type Along = Colours['along']

export const stopsOf = (colours: Colours): Stop[] =>
  colours.along === 'none' ? [{ at: 0, colour: colours.colour }] : colours.stops

export const hexOf = (colour: Colour, swatches: Show['swatches']): string =>
  'hex' in colour ? colour.hex : (swatches[colour.swatch]?.hex ?? '#000000')

export const nameOf = (colour: Colour, swatches: Show['swatches']): string =>
  'hex' in colour ? colour.hex : (swatches[colour.swatch]?.name ?? 'No swatch')

export const bytesOf = (hex: string): [number, number, number] => [
  Number.parseInt(hex.slice(1, 3), 16),
  Number.parseInt(hex.slice(3, 5), 16),
  Number.parseInt(hex.slice(5, 7), 16),
]

export const hexOfBytes = (bytes: readonly number[]): string =>
  `#${bytes.map(b => b.toString(16).padStart(2, '0')).join('')}`

const withColours = (light: Light, colours: Colours): Light => ({ ...light, colours })

/** Puts one stop's colour; a light that has fewer stops keeps its last one's place. */
export function withStop(light: Light, i: number, part: Partial<Stop>): Light {
  const { colours } = light
  if (colours.along === 'none')
    return withColours(light, { ...colours, colour: part.colour ?? colours.colour })
  const at = Math.min(i, colours.stops.length - 1)
  const stops = colours.stops.map((stop, n) => (n === at ? { ...stop, ...part } : stop))
  return withColours(light, { ...colours, stops })
}

/** One colour keeps the first stop; a gradient out of one colour begins with `second` at its end. */
export function withAlong(light: Light, along: Along, second: Colour): Light {
  const { colours } = light
  const stops = stopsOf(colours)
  if (along === 'none') return withColours(light, { along, colour: stops[0]!.colour })
  if (colours.along !== 'none') return withColours(light, { ...colours, along })
  return withColours(light, {
    along,
    stops: [
      { at: 0, colour: stops[0]!.colour },
      { at: 1, colour: second },
    ],
  })
}

/** A stop more, half way after stop `i` (or before it, when it is the last), of the same colour. */
export function withMoreStops(light: Light, i: number): Light {
  const { colours } = light
  if (colours.along === 'none' || colours.stops.length >= 16) return light
  const { stops } = colours
  const after = Math.min(i, stops.length - 2)
  const at = (stops[after]!.at + stops[after + 1]!.at) / 2
  const more = { at, colour: stops[Math.min(i, stops.length - 1)]!.colour }
  return withColours(light, {
    ...colours,
    stops: [...stops.slice(0, after + 1), more, ...stops.slice(after + 1)],
  })
}

export function withoutStop(light: Light, i: number): Light {
  const { colours } = light
  if (colours.along === 'none' || colours.stops.length <= 2) return light
  return withColours(light, { ...colours, stops: colours.stops.filter((_, n) => n !== i) })
}
