// Whether a cable reaches: along the floor from its box until it is below the light, then up to it.

import type { Place } from '../show/fields.ts'

/** Cables to lights higher than this run overhead, m: above the reach of most heads and hands. */
export const OVERHEAD = 2

export interface Reach {
  /** Along the floor, m. */
  readonly run: number
  /** Up, or down, m. */
  readonly rise: number
  /** What is left of the cable, m; below zero it does not reach. */
  readonly slack: number
}

/**
 * The way of a cable of `length` metres from a box to a light. It is the shortest that is walked on the floor: one
 * laid round the band's things, or taped along an edge, needs more.
 */
export function reachOf(box: Place, light: Place, length: number): Reach {
  const run = Math.hypot(light.x - box.x, light.y - box.y)
  const rise = Math.abs(light.z - box.z)
  return { run, rise, slack: length - run - rise }
}
