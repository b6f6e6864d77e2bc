// What is left of a cue when the song begins in the middle of it.

import type { Light } from '../light/schema.ts'
import type { Cue } from '../show/song.ts'
import type { Ticks } from './units.ts'

/**
 * A cue without its first `skipped` ticks; the rest looks as if they had been there: its fade in, its motion and
 * gradients, and the points of its own level keep their place. (The points of a look begin where the rest begins.)
 */
export function withoutStart(cue: Cue, skipped: Ticks): Cue {
  const earlier = (t: Ticks) => (t - skipped) as Ticks
  const { fadeIn, light } = cue
  return {
    ...cue,
    at: (cue.at + skipped) as Ticks,
    length: earlier(cue.length),
    origin: earlier(cue.origin),
    ...(fadeIn && { fadeIn: { ...fadeIn, cut: Math.min(fadeIn.length, fadeIn.cut + skipped) as Ticks } }),
    light: 'look' in light ? light : keepingPlace(light, cue.length, earlier),
  }
}

function keepingPlace(light: Light, length: Ticks, earlier: (t: Ticks) => Ticks): Light {
  const { level, colours } = light
  return {
    ...light,
    level: typeof level === 'number' ? level : level.map(point => ({ ...point, at: earlier(point.at) })),
    colours: colours.along === 'time' ? { ...colours, length: colours.length ?? length } : colours,
  }
}
