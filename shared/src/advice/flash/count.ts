// Counts transitions in every second of a signal: the worst one, the stretches above a limit, the longest flashing.

import { LONGEST_SECONDS, SEPARATE_SECONDS, screenLimit } from './limits.ts'

/** A stretch of frames, from its first transition to its last, both included. */
export interface FlashSpan {
  readonly from: number
  readonly to: number
  /** The most transitions in one second of it. */
  readonly transitions: number
}

export interface FlashReading {
  /** Transitions in the worst second (two make a flash). */
  readonly transitions: number
  /** Frame of the first transition of that second. */
  readonly worst: number
  /** Stretches with more than 6 transitions in some second (strictly more than 3 flashes); less than 1 s apart: one. */
  readonly fast: readonly FlashSpan[]
  /** Stretches of flashing without a pause of 360 ms between flashes that last more than 5 s. */
  readonly long: readonly FlashSpan[]
  /** The longest such flashing, in frames, be it long or not. */
  readonly longest: number
}

type Open = { -readonly [K in keyof FlashSpan]: FlashSpan[K] }

/** Transitions of some signals at a frame rate (1…44 whole frames a second), each signal's in order of time. */
export class FlashCount {
  readonly #rate: number
  /** The frames of each signal's transitions in the last second, in a ring: one transition a frame at most. */
  readonly #frames: Int32Array
  readonly #first: Int32Array
  readonly #size: Int32Array
  readonly #worst: Int32Array
  readonly #worstAt: Int32Array
  /** The last two transitions, and where the flashing that goes on began. */
  readonly #last: Int32Array
  readonly #lastButOne: Int32Array
  readonly #since: Int32Array
  readonly #longest: Int32Array
  readonly #fast: Open[][]
  readonly #long: Open[][]

  constructor(signals: number, rate: number) {
    this.#rate = rate
    const numbers = () => new Int32Array(signals)
    this.#frames = new Int32Array(signals * rate)
    this.#first = numbers()
    this.#size = numbers()
    this.#worst = numbers()
    this.#worstAt = numbers()
    this.#last = numbers().fill(-1)
    this.#lastButOne = numbers().fill(-1)
    this.#since = numbers()
    this.#longest = numbers()
    this.#fast = Array.from({ length: signals }, () => [])
    this.#long = Array.from({ length: signals }, () => [])
  }

  /** A transition of a signal at a frame: 0 or later, after those before. */
  add(signal: number, frame: number): void {
    const rate = this.#rate
    const ring = signal * rate
    let first = this.#first[signal]!
    let size = this.#size[signal]!
    // The second is half-open: of two transitions exactly 1 s apart only one is in it.
    while (size > 0 && this.#frames[ring + first]! <= frame - rate) {
      first = (first + 1) % rate
      size--
    }
    this.#frames[ring + ((first + size) % rate)] = frame
    size++
    this.#first[signal] = first
    this.#size[signal] = size
    const from = this.#frames[ring + first]!
    if (size > this.#worst[signal]!) {
      this.#worst[signal] = size
      this.#worstAt[signal] = from
    }
    if (size > 2 * screenLimit.flashes) extend(this.#fast[signal]!, from, frame, size, rate)
    this.#continue(signal, frame, size)
  }

  /** Flashing goes on while the flash before began less than 360 ms earlier (two transitions back, the same way). */
  #continue(signal: number, frame: number, size: number): void {
    const before = this.#lastButOne[signal]!
    const last = this.#last[signal]!
    const separate = SEPARATE_SECONDS * this.#rate
    if (last < 0 || frame - last >= separate) this.#since[signal] = frame
    else if (before >= 0 && frame - before >= separate) this.#since[signal] = last
    this.#lastButOne[signal] = last
    this.#last[signal] = frame
    const since = this.#since[signal]!
    const length = frame - since
    if (length > this.#longest[signal]!) this.#longest[signal] = length
    if (length > LONGEST_SECONDS * this.#rate) extend(this.#long[signal]!, since, frame, size, 0)
  }

  reading(signal: number): FlashReading {
    return {
      transitions: this.#worst[signal]!,
      worst: this.#worstAt[signal]!,
      fast: this.#fast[signal]!,
      long: this.#long[signal]!,
      longest: this.#longest[signal]!,
    }
  }
}

/** Makes the last span longer when the new one begins less than `gap` frames after its end, or adds a span. */
function extend(spans: Open[], from: number, to: number, transitions: number, gap: number): void {
  const last = spans.at(-1)
  if (last && from <= last.to + gap) {
    last.to = to
    last.transitions = Math.max(last.transitions, transitions)
  } else spans.push({ from, to, transitions })
}
