// Splitting a cue in two, so that the light does not change by a single byte.

import { CodedError } from '../errors.ts'
import type { Light } from '../light/schema.ts'
import type { Ticks } from '../time/units.ts'
import type { Cue, Fade } from './song.ts'

/**
 * The two halves of a cue cut `offset` ticks after its start; the second is for a new id. Motion and gradients keep
 * where they began, points of the level keep their place, and a fade that the cut goes through goes on in the other
 * half (`cut` says how much of it lies outside). `compileSong` joins the halves again while they still fit.
 * @throws CodedError `edit.invalid` when the cut is not inside the cue.
 */
export function splitCue(cue: Cue, offset: number): [Cue, Cue] {
  if (!Number.isInteger(offset) || offset < 1 || offset >= cue.length) {
    throw new CodedError(
      'edit.invalid',
      `a cue of ${cue.length} ticks cannot be split after ${offset}`,
      'offset',
    )
  }
  const { fadeIn, fadeOut, ...rest } = cue
  const light =
    'look' in cue.light
      ? { ...cue.light, span: cue.light.span ?? cue.length }
      : spanning(cue.light, cue.length)
  const laterIn = beyond(fadeIn, offset)
  const earlierOut = beyond(fadeOut, cue.length - offset)
  const first: Cue = {
    ...rest,
    length: offset as Ticks,
    light,
    ...(fadeIn && { fadeIn }),
    ...(earlierOut && { fadeOut: earlierOut }),
  }
  const second: Cue = {
    ...rest,
    at: (cue.at + offset) as Ticks,
    length: (cue.length - offset) as Ticks,
    origin: (cue.origin - offset) as Ticks,
    light: 'look' in light ? light : shifted(light, offset),
    ...(laterIn && { fadeIn: laterIn }),
    ...(fadeOut && { fadeOut }),
  }
  return [first, second]
}

/** What is left of a fade when `ticks` more of it lie outside the cue; nothing once it is all outside. */
export function beyond(fade: Fade | undefined, ticks: number): Fade | undefined {
  if (!fade || fade.cut + ticks >= fade.length) return undefined
  return { ...fade, cut: (fade.cut + ticks) as Ticks }
}

/** A gradient over time spans the whole cue unless it says otherwise: what is left of that has to say it. */
export function spanning(light: Light, length: Ticks): Light {
  const { colours } = light
  return colours.along === 'time'
    ? { ...light, colours: { ...colours, length: colours.length ?? length } }
    : light
}

function shifted(light: Light, offset: number): Light {
  if (typeof light.level === 'number') return light
  return { ...light, level: light.level.map(point => ({ ...point, at: (point.at - offset) as Ticks })) }
}
