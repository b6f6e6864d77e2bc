// The flash meter: takes rendered light frame by frame, and finds general, red and single-colour flashes.

import { luminance } from './chroma.ts'
import { FlashCount, type FlashReading } from './count.ts'
import { RedTurns } from './red.ts'
import { Turns } from './turns.ts'

/**
 * `general`: relative luminance. `red`: to or from saturated red. Both by W3C WCAG 2.2, adapted to lamps.
 * `channel`: the strongest of red, green and blue, by the rule of the general flash. This one is ours: full blue
 * going on and off changes luminance by 0.0722 only, which is no general flash, yet flashes on a stage.
 */
export const flashKinds = ['general', 'red', 'channel'] as const
export type FlashKind = (typeof flashKinds)[number]

/**
 * Measures some signals at a frame rate (1…44 whole frames a second). Feed one frame after another; read at any time.
 * Light is linear; 1 is the signal's own full white, the reference that stands in for a screen's.
 */
export class FlashMeter {
  readonly #signals: number
  readonly #luminance: Turns
  readonly #strongest: Turns
  readonly #red: RedTurns
  readonly #counts: Readonly<Record<FlashKind, FlashCount>>
  #frame = -1

  constructor(signals: number, rate: number) {
    this.#signals = signals
    this.#luminance = new Turns(signals)
    this.#strongest = new Turns(signals)
    this.#red = new RedTurns(signals)
    const count = () => new FlashCount(signals, rate)
    this.#counts = { general: count(), red: count(), channel: count() }
  }

  /** The next frame: linear red, green and blue of every signal in turn. The first one is where the signals begin. */
  feed(light: Float32Array): void {
    const frame = ++this.#frame
    const { general, red, channel } = this.#counts
    for (let signal = 0; signal < this.#signals; signal++) {
      const r = light[3 * signal]!
      const g = light[3 * signal + 1]!
      const b = light[3 * signal + 2]!
      const y = luminance(r, g, b)
      const strongest = Math.max(r, g, b)
      if (frame === 0) {
        this.#luminance.start(signal, y)
        this.#strongest.start(signal, strongest)
        this.#red.start(signal, r, g, b)
        continue
      }
      if (this.#luminance.step(signal, y)) general.add(signal, frame)
      if (this.#strongest.step(signal, strongest)) channel.add(signal, frame)
      if (this.#red.step(signal, r, g, b)) red.add(signal, frame)
    }
  }

  reading(signal: number, kind: FlashKind): FlashReading {
    return this.#counts[kind].reading(signal)
  }
}
