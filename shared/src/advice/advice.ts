// A piece of advice: where, what, the limit and its source, and what to do. It never blocks saving or playing.

/** Bars as the chart numbers them: from 1, both included. */
export interface Bars {
  readonly from: number
  readonly to: number
}

/** A cue, by the section whose record holds it. */
export interface CueRef {
  readonly section: string
  readonly cue: string
}

/** Where it is, by ids; what does not apply is left out. */
export interface AdvicePlace {
  readonly song?: string
  /** The section in which it begins. */
  readonly section?: string
  readonly bars?: readonly Bars[]
  /** The cues behind it. */
  readonly cues?: readonly CueRef[]
  readonly parts?: readonly string[]
  /** Fixtures and guests. */
  readonly fixtures?: readonly string[]
  readonly boxes?: readonly string[]
  readonly socket?: string
  readonly universe?: number
  readonly address?: number
}

/** `stop`: must not be played so. `heed`: will look or work otherwise than meant, or may do harm. `note`: good to know. */
export type Severity = 'note' | 'heed' | 'stop'

export const adviceKinds = [
  'overlap',
  'past512',
  'socketTooSmall',
  'decoderTooSmall',
  'placedTwice',
  'unknown',
  'emptyPart',
  'standInCircle',
  'memberUnknown',
  'memberAbsent',
  'memberTwice',
  'darkCues',
  'openFault',
  'fastFlashes',
  'longFlashing',
  'strobeHeld',
  'socketLoad',
  'supplyLoad',
  'powerLimited',
  'cableShort',
] as const
export type AdviceKind = (typeof adviceKinds)[number]

export interface Advice {
  readonly kind: AdviceKind
  readonly severity: Severity
  readonly place: AdvicePlace
  /** What and limit in a few words, where it has bars: for the margin of the chart, which says the bars itself. */
  readonly brief?: string
  /** One or two sentences that name the place in words. */
  readonly says: string
  readonly remedy: string
  /** Of flashing light: flashes in its worst second. */
  readonly flashes?: number
  /** Of a loaded supply: what it gives at most, A. */
  readonly amps?: number
  /** Who sets the limit, where there is one. */
  readonly source?: string
}
