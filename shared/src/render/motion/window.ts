// The two outlines that motions are made of: a window with soft edges, and a fall after an attack.

import { SNAP } from './layout.ts'

/** An age below this is that of a front that comes exactly now. */
const NOW = 3 * SNAP

/**
 * Window: 1 inside, 0 outside, half at `duty`/2 from its middle; edges are raised cosines that take up
 * shape · min(duty, 1 − duty) of the cycle. At duty ½ and shape 1 it is one whole raised cosine.
 */
export function windowAt(distance: number, duty: number, shape: number): number {
  const edge = (shape * Math.min(duty, 1 - duty)) / 2
  const inner = duty / 2 - edge
  if (distance <= inner) return 1
  if (distance >= duty / 2 + edge) return 0
  return 0.5 + 0.5 * Math.cos((Math.PI * (distance - inner)) / (2 * edge))
}

/**
 * The greatest value of a window of `duty` cycles that opened `age` cycles ago (0…1) and comes again every cycle,
 * while `advance` cycles pass: however fast it goes by, one frame shows it.
 */
export function passingWindow(age: number, advance: number, duty: number, shape: number): number {
  if (duty >= 1) return 1
  if (shape === 0 || duty <= 0) return age < Math.max(duty, NOW) || age + advance > 1 ? 1 : 0
  const gone = age - duty / 2
  const ahead = gone < 0 ? -gone : 1 - gone
  if (advance >= ahead) return 1
  const behind = gone < 0 ? 1 + gone : gone
  return windowAt(Math.min(behind, ahead - advance), duty, shape)
}

/**
 * What is left of an attack after `age` (0…1 of its length): (1 − age^(1/shape))^1.5. Shape 1 drops at once and rings
 * out like a struck string; ½ holds for a moment and rounds off; 0 stays full to the end and stops.
 */
export function fallAt(age: number, shape: number): number {
  if (age >= 1) return 0
  const left = 1 - age ** (1 / shape)
  return left * Math.sqrt(left)
}

/** The greatest value of an attack that comes every cycle and falls for `duty` of it, while `advance` cycles pass. */
export function passingFall(age: number, advance: number, duty: number, shape: number): number {
  return age < NOW || age + advance > 1 ? 1 : fallAt(age / duty, shape)
}
