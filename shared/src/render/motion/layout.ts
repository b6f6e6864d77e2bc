// What every motion is given: how far its cycle is at this frame, and the player's settings.

/**
 * The state of a cue's motion over its part of one frame. Owned by the scratch and written anew for every cue, so
 * that the hot path allocates nothing.
 *
 * All motions are written for an element at x (0…1 of the part's order, direction applied) as a value m of 0…1 on the
 * L* scale. P is the phase in cycles since the cue's origin, frac the fractional part, S the spread, D the duty.
 */
export interface Wave {
  /** Cycles since the cue's origin, at the start of the cue's part of the frame. */
  phase: number
  /** Cycles that pass during that part; 0 when time stands still. */
  advance: number
  spread: number
  duty: number
  shape: number
  /** Whole number that chooses the random pattern. */
  seed: number
}

/** The elements of a part that a motion acts on: its fixtures, or its cells. Shared by all cues of the part. */
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
 * the arithmetic says: `phase` is read this many cycles late, and `advance` ends as much early.
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
