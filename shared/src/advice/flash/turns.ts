// The peaks and valleys of brightness: finds every change of 10 % or more between them, one sample at a time.

/** Least change that counts (W3C WCAG 2.2: 10 % of the maximum relative luminance). */
const CHANGE = 0.1
/** The darker of the two states must be below this (W3C WCAG 2.2). */
const DARKER_BELOW = 0.8
/** Allowance for samples that went through 32-bit floats. */
const EPSILON = 1e-6

/**
 * Follows some signals of relative brightness (0…1) from turn to turn. A slow ramp is one change, from valley to
 * peak (W3C WCAG 2.2, definition of flash), and a turn back by less than 10 % is ripple: it does not part a ramp in two.
 */
export class Turns {
  /** The last peak or valley that stands, and the furthest point reached since. */
  readonly #from: Float64Array
  readonly #furthest: Float64Array
  /** 1 rising, −1 falling, 0 not yet known. */
  readonly #way: Int8Array
  /** Whether the run going on has been reported. */
  readonly #counted: Uint8Array

  constructor(signals: number) {
    this.#from = new Float64Array(signals)
    this.#furthest = new Float64Array(signals)
    this.#way = new Int8Array(signals)
    this.#counted = new Uint8Array(signals)
  }

  /** Takes a signal's first sample: where it begins. */
  start(signal: number, value: number): void {
    this.#from[signal] = value
    this.#furthest[signal] = value
  }

  /**
   * Takes a signal's next sample. True on the one sample where the run from the last turn becomes a transition:
   * 10 % away from that turn, the darker of the two below 80 %.
   */
  step(signal: number, value: number): boolean {
    const way = this.#way[signal]!
    const furthest = this.#furthest[signal]!
    if (way === 0) {
      // Before the first run: both ends of what was seen are kept, the lower in `from`, the higher in `furthest`.
      const low = Math.min(this.#from[signal]!, value)
      const high = Math.max(furthest, value)
      const rises = value - low >= CHANGE - EPSILON
      const falls = high - value >= CHANGE - EPSILON
      this.#from[signal] = falls ? high : low
      this.#furthest[signal] = falls ? value : high
      if (!rises && !falls) return false
      this.#way[signal] = falls ? -1 : 1
      return this.#report(signal)
    }
    if ((value - furthest) * way >= 0) {
      this.#furthest[signal] = value
    } else if ((furthest - value) * way >= CHANGE - EPSILON) {
      this.#from[signal] = furthest
      this.#furthest[signal] = value
      this.#way[signal] = -way
      this.#counted[signal] = 0
    } else {
      return false
    }
    return this.#report(signal)
  }

  #report(signal: number): boolean {
    const darker = Math.min(this.#from[signal]!, this.#furthest[signal]!)
    if (this.#counted[signal] === 1 || darker >= DARKER_BELOW - EPSILON) return false
    this.#counted[signal] = 1
    return true
  }
}
