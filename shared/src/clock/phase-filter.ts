// The filter under the MIDI clock follower: place and speed of a song from jittered pulses, with their uncertainty.

/**
 * A line through the song: `phase` ms of song time past the last pulse's place at `at`, and `ratio` ms of song time a
 * ms from there. Song time is the time of the song's own tempo map, so tempo that the map foresees bends nothing here.
 * The three variances say how sure of it the filter is.
 */
export interface PhaseFilter {
  /** Ms of the clock the pulses are stamped with. */
  readonly at: number
  readonly phase: number
  /** Above 0. */
  readonly ratio: number
  readonly phaseVariance: number
  readonly covariance: number
  readonly ratioVariance: number
}

/**
 * Weight of each pulse relative to the next one. Fading by 1/64 a pulse averages over about 50 pulses: phase noise of
 * a steady clock then comes to about √(1.25/64) = 0.14 of the jitter (fading-memory filter of the first degree).
 */
const FADE = 1 - 1 / 64

/** Tempo wanders: variance of the ratio gained per ms that no pulse is heard, once they are missed. */
const WANDER = 1e-8

const RATIO_MIN = 0.05
const RATIO_MAX = 20

/** Song ms past the last pulse's place at a time. */
export function lineAt(filter: PhaseFilter, at: number): number {
  return filter.phase + filter.ratio * (at - filter.at)
}

/** The filter as it stands at a later time; `missed` when pulses that were due did not come. */
export function predicted(filter: PhaseFilter, at: number, missed: boolean): PhaseFilter {
  const dt = at - filter.at
  const ratioVariance = filter.ratioVariance + (missed ? WANDER * dt : 0)
  return {
    at,
    phase: lineAt(filter, at),
    ratio: filter.ratio,
    phaseVariance: (filter.phaseVariance + dt * (2 * filter.covariance + dt * ratioVariance)) / FADE,
    covariance: (filter.covariance + dt * ratioVariance) / FADE,
    ratioVariance: ratioVariance / FADE,
  }
}

/**
 * Takes a pulse whose place lies `step` song ms after the last one's; phase is then counted from the new place.
 * @param filter predicted to the time of the pulse
 * @param noise variance of a pulse's jitter, in song ms²
 */
export function corrected(filter: PhaseFilter, step: number, noise: number): PhaseFilter {
  const { phaseVariance, covariance, ratioVariance } = filter
  const total = phaseVariance + noise
  const error = step - filter.phase
  const phaseGain = phaseVariance / total
  const ratioGain = covariance / total
  return {
    at: filter.at,
    phase: filter.phase + phaseGain * error - step,
    ratio: Math.min(RATIO_MAX, Math.max(RATIO_MIN, filter.ratio + ratioGain * error)),
    phaseVariance: phaseVariance * (1 - phaseGain),
    covariance: covariance * (1 - phaseGain),
    ratioVariance: Math.max(0, ratioVariance - ratioGain * covariance),
  }
}

/** The filter with its trust lowered to what was seen to be wrong: it then turns to what comes. */
export function doubted(filter: PhaseFilter, phaseError: number, ratioError: number): PhaseFilter {
  return {
    ...filter,
    phaseVariance: Math.max(filter.phaseVariance, phaseError ** 2),
    ratioVariance: Math.max(filter.ratioVariance, ratioError ** 2),
  }
}

/** The filter in another song time, `factor` of whose ms make one of the present. */
export function rescaled(filter: PhaseFilter, factor: number): PhaseFilter {
  return {
    at: filter.at,
    phase: filter.phase * factor,
    ratio: filter.ratio * factor,
    phaseVariance: filter.phaseVariance * factor ** 2,
    covariance: filter.covariance * factor ** 2,
    ratioVariance: filter.ratioVariance * factor ** 2,
  }
}
