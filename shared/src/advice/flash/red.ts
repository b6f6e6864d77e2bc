// The red flash: changes of colour to or from a saturated red, whatever the brightness.

import { uOf, vOf } from '../../light/chromaticity.ts'
import { isDark, isSaturatedRed, RED_U, RED_V, WHITE_U, WHITE_V } from './chroma.ts'

/** Least distance in CIE 1976 u′v′ between the two states (W3C WCAG 2.2, red flash). */
const DISTANCE = 0.2
/** Allowance for samples that went through 32-bit floats. */
const EPSILON = 1e-6

const distance = (u1: number, v1: number, u2: number, v2: number): number =>
  Math.sqrt((u1 - u2) * (u1 - u2) + (v1 - v2) * (v1 - v2)) // several times as fast as Math.hypot

/**
 * Follows the colour of some signals. A transition leads from a saturated red to a state more than 0.2 away in u′v′,
 * or from such a state to a saturated red (W3C WCAG 2.2). Black is taken for the white point, so that red and black
 * alternating are red flashes. On each side the state furthest from the other side counts: a slow change is one.
 */
export class RedTurns {
  /** 1 after a saturated red; 0 on the other side. */
  readonly #isRed: Uint8Array
  /** The reddest state of the last red side. */
  readonly #redU: Float64Array
  readonly #redV: Float64Array
  /** The state furthest from it on the other side. */
  readonly #farU: Float64Array
  readonly #farV: Float64Array

  constructor(signals: number) {
    this.#isRed = new Uint8Array(signals)
    this.#redU = new Float64Array(signals).fill(RED_U)
    this.#redV = new Float64Array(signals).fill(RED_V)
    this.#farU = new Float64Array(signals)
    this.#farV = new Float64Array(signals)
  }

  /** Takes a signal's first sample, linear RGB: where it begins. */
  start(signal: number, r: number, g: number, b: number): void {
    const dark = isDark(r, g, b)
    const u = dark ? WHITE_U : uOf(r, g, b)
    const v = dark ? WHITE_V : vOf(r, g, b)
    if (!dark && isSaturatedRed(r, g, b)) this.#becomeRed(signal, u, v)
    else this.#becomeFar(signal, u, v)
  }

  /** Takes a signal's next sample, linear RGB; true when a transition is complete. */
  step(signal: number, r: number, g: number, b: number): boolean {
    const dark = isDark(r, g, b)
    const u = dark ? WHITE_U : uOf(r, g, b)
    const v = dark ? WHITE_V : vOf(r, g, b)
    const red = !dark && isSaturatedRed(r, g, b)
    const redU = this.#redU[signal]!
    const redV = this.#redV[signal]!
    if (this.#isRed[signal] === 1) {
      if (!red && distance(u, v, redU, redV) > DISTANCE + EPSILON) {
        this.#becomeFar(signal, u, v)
        return true
      }
      if (red && distance(u, v, RED_U, RED_V) < distance(redU, redV, RED_U, RED_V))
        this.#becomeRed(signal, u, v)
      return false
    }
    const farU = this.#farU[signal]!
    const farV = this.#farV[signal]!
    if (red && distance(u, v, farU, farV) > DISTANCE + EPSILON) {
      this.#becomeRed(signal, u, v)
      return true
    }
    if (distance(u, v, redU, redV) > distance(farU, farV, redU, redV)) this.#becomeFar(signal, u, v)
    return false
  }

  #becomeRed(signal: number, u: number, v: number): void {
    this.#isRed[signal] = 1
    this.#redU[signal] = u
    this.#redV[signal] = v
  }

  #becomeFar(signal: number, u: number, v: number): void {
    this.#isRed[signal] = 0
    this.#farU[signal] = u
    this.#farV[signal] = v
  }
}
