// What is true of the frame and of the cue being painted: numbers that the renderer's steps hand to each other.

/**
 * The numbers by name, as places in a Float64Array. They live there because a fraction that is passed to a function,
 * returned from it or kept in an object is a new object to the engine, and a frame is to allocate nothing.
 */
export const its = {
  /** The interval that the frame stands for, [from, to): in ticks, and in seconds of the song. */
  from: 0,
  to: 1,
  fromSeconds: 2,
  toSeconds: 3,
  /** The cue's part of it. */
  at: 4,
  until: 5,
  atSeconds: 6,
  untilSeconds: 7,
  /** What the cue's fades let through, 0…1 on the L* scale, and how far that dims the light itself. */
  share: 8,
  fade: 9,
  /** The cue's level with that. */
  level: 10,
  /** Cycles since the cue's origin at `at`, and cycles that pass until `until`; see `SNAP` in `motion/layout.ts`. */
  phase: 11,
  advance: 12,
  /** Cycles since the cue's origin at `until`, and cycles in the whole frame. */
  end: 13,
  frameCycles: 14,
  /** How the cue comes onto the layer: layer · keep + light · gain. */
  keep: 15,
  gain: 16,
  /** How much of the layer there is, 0…1: the weight of a covering or masking track. */
  weight: 17,
  /** Cycles in the whole frame above which a strobe flashes faster than the venue allows. */
  mostCycles: 18,
} as const

export type Now = Float64Array

export const nowNumbers = (): Now => new Float64Array(Object.keys(its).length)
