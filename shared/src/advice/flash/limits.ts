// How many flashes a second are too many: two published limits, their sources, and what a tempo allows.

/** A limit on flashes a second, and who sets it. */
export interface FlashLimit {
  readonly flashes: number
  readonly source: string
}

/** The limits. Both were written for other light than a stage's: see `ADAPTED`. */
export const screenLimit: FlashLimit = {
  flashes: 3,
  source: 'W3C WCAG 2.2 SC 2.3.1, ITU-R BT.1702-3',
}
export const venueLimit: FlashLimit = {
  flashes: 4,
  source: 'UK HSE advice for clubs and public events, as the Epilepsy Society gives it',
}
/** Said wherever the limits are: an honest reading of rules made for screens. */
export const ADAPTED = 'adapted: none of these standards covers stage lamps'

/** Longest stretch of flashing, in seconds, that is not a risk by itself (ITU-R BT.1702-3). */
export const LONGEST_SECONDS = 5
/** Flashes whose leading edges are this far apart, in seconds, are separate ones (ITU-R BT.1702-3, 50 Hz). */
export const SEPARATE_SECONDS = 0.36
/** Flashes a second, evenly spaced, that are separate ones at any frame rate of ours: 1 / 0.36 s, less a frame of jitter. */
export const SEPARATE_RATE = 2.5

/**
 * The rates that provoke, flashes a second: common ones, and the worst. The Epilepsy Society gives 3 to 30 (some people
 * up to 60); that 15 to 25 are the worst is general medical teaching, read second-hand.
 */
export const provocative = { from: 3, to: 30, worstFrom: 15, worstTo: 25 } as const

/** Transitions in a second against a limit: two make a flash. */
export interface FlashVerdict {
  /** No more than 2 transitions for each flash allowed. */
  readonly strict: boolean
  /** No more complete pairs of opposing transitions than flashes allowed. 7 transitions: the only disagreement at 3. */
  readonly lenient: boolean
}

/** Whether so many transitions in one second meet a limit, by the strict and by the lenient reading. */
export const meets = (limit: FlashLimit, transitions: number): FlashVerdict => ({
  strict: transitions <= 2 * limit.flashes,
  lenient: Math.floor(transitions / 2) <= limit.flashes,
})

/** Note values of a strobe, with the flashes they make in a quarter note; slowest first. */
export const divisions = [
  { name: '1/4', flashesPerBeat: 1 },
  { name: '1/8', flashesPerBeat: 2 },
  { name: '1/8 triplet', flashesPerBeat: 3 },
  { name: '1/16', flashesPerBeat: 4 },
  { name: '1/32', flashesPerBeat: 8 },
] as const

/** Flashes a second of a strobe at a tempo (quarter notes a minute). */
export const flashesPerSecond = (bpm: number, flashesPerBeat: number): number => (bpm / 60) * flashesPerBeat

/** The fastest tempo (quarter notes a minute) at which a strobe meets a limit. */
export const fastestBpm = (limit: FlashLimit, flashesPerBeat: number): number =>
  (60 * limit.flashes) / flashesPerBeat

/** The fastest note value that meets the screen limit at a tempo; null when not even quarter notes do. */
export const fastestDivision = (bpm: number): string | null =>
  divisions.findLast(d => bpm <= fastestBpm(screenLimit, d.flashesPerBeat))?.name ?? null
