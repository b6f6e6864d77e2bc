// What all motions share: the elements they act on, and how phases are read.

/**
 * The elements of a part that a motion acts on: its fixtures, or its cells. Shared by all cues of the part.
 *
 * Every motion is a value m of 0…1 on the L* scale for an element at x (0…1 of the part's order, direction applied). In
 * the formulas P is the phase in cycles since the cue's origin, frac the fractional part, S the spread, D the duty.
 */
export interface Layout {
  readonly count: number
  readonly cyclic: boolean
  /** Place of each element, 0…1: forward, backward, outward, inward. */
  readonly x: readonly [Float64Array, Float64Array, Float64Array, Float64Array]
  /** First cell of each element in the part's own numbering, and how many it has. */
  readonly first: Int32Array
  readonly cells: Int32Array
}

/**
 * A front that falls exactly on the edge of a frame belongs to the frame that begins there, whatever the last bit of
 * the arithmetic says: the phase is read this many cycles late, and what passes in the frame ends as much early.
 */
export const SNAP = 1e-9

export const fraction = (u: number): number => u - Math.floor(u)

/**
 * Cycles between the first and the last element of a travelling window of `duty` of the cycle. On a part with two ends
 * the window leaves one end as it enters the other: with S = 1 and D = 1/8, eight fixtures are lit one after the other,
 * in one cycle, and so are sixteen. A part that closes in a ring has no ends.
 */
export function travel(spread: number, duty: number, cyclic: boolean): number {
  return cyclic ? spread : spread - duty * Math.min(1, spread)
}
