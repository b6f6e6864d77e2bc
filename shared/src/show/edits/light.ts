// Changes of a light: its colours swapped, its level trimmed, its looks and swatches found.

import type { Colour, Light } from '../../light/schema.ts'
import type { Show } from '../schema.ts'
import type { Cue } from '../song.ts'
import { spanning } from '../split.ts'
import { inSongs, mapped } from './change.ts'

/** The light with its colours changed; the same reference when none is. */
export function withColours(light: Light, change: (colour: Colour) => Colour): Light {
  const { colours } = light
  if (colours.along === 'none') {
    const colour = change(colours.colour)
    return colour === colours.colour ? light : { ...light, colours: { ...colours, colour } }
  }
  const stops = colours.stops.map(stop => {
    const colour = change(stop.colour)
    return colour === stop.colour ? stop : { ...stop, colour }
  })
  return stops.every((stop, i) => stop === colours.stops[i])
    ? light
    : { ...light, colours: { ...colours, stops } }
}

/** The light with swatches replaced as a copy of a section replaces them: from → to. */
export const swapped = (light: Light, swatches: Readonly<Record<string, string>>): Light =>
  withColours(light, colour => {
    if (!('swatch' in colour) || !Object.hasOwn(swatches, colour.swatch)) return colour
    return { swatch: swatches[colour.swatch]! }
  })

/** The swatches that a light is made of. */
export function swatchesOf({ colours }: Light): string[] {
  const all = colours.along === 'none' ? [colours.colour] : colours.stops.map(stop => stop.colour)
  return all.flatMap(colour => ('swatch' in colour ? [colour.swatch] : []))
}

/** The light with its level times a factor (0…1). */
export function trimmed(light: Light, factor: number): Light {
  if (factor === 1) return light
  const { level } = light
  const trim = (value: number): number => value * factor
  return {
    ...light,
    level: typeof level === 'number' ? trim(level) : level.map(p => ({ ...p, level: trim(p.level) })),
  }
}

/** A cue's own light, or its part's in its look. The document is valid, so the look and the part are there. */
export function lightOf(show: Show, part: string, { light }: Cue): Light {
  if (!('look' in light)) return light
  const inLook = show.looks[light.look]!.parts[part]!
  return light.span === undefined ? inLook : spanning(inLook, light.span)
}

/** Every light of the show changed: those of the looks and those of the cues. */
export function mapLights(show: Show, change: (light: Light) => Light): Show {
  const looks = mapped(show.looks, look => {
    const parts = mapped(look.parts, change)
    return parts === look.parts ? look : { ...look, parts }
  })
  const cues = mapCues(show, cue => {
    if ('look' in cue.light) return cue
    const light = change(cue.light)
    return light === cue.light ? cue : { ...cue, light }
  })
  return { ...cues, looks }
}

/** Every cue of the show changed; `part` is that of its track. */
export const mapCues = (show: Show, change: (cue: Cue, part: string) => Cue): Show =>
  inSongs(show, (section, song) => {
    const cues = mapped(section.cues, cue => change(cue, song.tracks[cue.track]!.part))
    return cues === section.cues ? section : { ...section, cues }
  })
