// What a build draws when it is full on: amps of each colour, watts, and the strip cut to whole segments.

import type { PerColour } from '../rig/electric.ts'
import type { Build } from '../rig/schema.ts'

export const colourNames = ['red', 'green', 'blue', 'white'] as const
export type ColourName = (typeof colourNames)[number]

/** A strip as it is cut: whole segments, and what is left over of the length asked for. */
export interface Cut {
  readonly segments: number
  /** Of one segment, m. */
  readonly segmentMetres: number
  readonly metres: number
  readonly over: number
}

/** Null for a build that is not described by the LEDs of its strip. */
export function cutOf({ draw }: Pick<Build, 'draw'>): Cut | null {
  if (draw.from !== 'strip') return null
  const segmentMetres = draw.inSeries / draw.ledsPerMetre
  // A hair of allowance: 1.2 m of 5 cm segments are 24, whatever floats make of it.
  const segments = Math.floor(draw.metres / segmentMetres + 1e-6)
  const metres = segments * segmentMetres
  return { segments, segmentMetres, metres, over: Math.max(0, draw.metres - metres) }
}

/** Amps of each colour of the whole fixture, full on, at the volts the build is made for. */
export function ampsOf(build: Pick<Build, 'draw' | 'volts'>): PerColour {
  const { draw, volts } = build
  if (draw.from === 'measured') return draw.amps
  if (draw.from === 'watts') {
    const third = (draw.wattsPerMetre * draw.metres) / volts / 3
    return { red: third, green: third, blue: third, white: 0 }
  }
  const { segments } = cutOf(build)!
  const { red, green, blue, white } = draw.segmentAmps
  return { red: red * segments, green: green * segments, blue: blue * segments, white: white * segments }
}

/** Amps with everything on. */
export function fullAmps(build: Pick<Build, 'draw' | 'volts'>): number {
  const { red, green, blue, white } = ampsOf(build)
  return red + green + blue + white
}
