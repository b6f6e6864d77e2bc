// One universe on its way out: finds its bytes in a frame and decides whether this frame sends them.

const SLOTS = 512
/** Repeats of an unchanged frame before suppression begins (E1.31-2018 6.6.2). */
const REPEATS = 3
/**
 * Keep-alives are 800–1000 ms apart (E1.31-2018 6.6.2; Art-Net 4 recommends the same). They leave with a frame, so the
 * first frame at or after 800 ms carries them: at every whole rate from 1 to 44 Hz that is within 1000 ms.
 */
const KEEP_ALIVE = 800

/** The universe is in the frame, but this frame need not send it. */
export const RESTING = -1
/** The frame has no such universe. */
export const ABSENT = -2

export class Lane {
  /** Whether the stream has begun and not been ended. */
  live = false
  readonly #last = new Uint8Array(SLOTS)
  #index = 0
  #repeats = 0
  #sentAt = 0

  /** `every`: each frame is sent; otherwise changes, three repeats and keep-alives. */
  constructor(
    readonly universe: number,
    readonly every: boolean,
  ) {}

  /** Where the universe's 512 bytes begin in `levels` when they are to be sent now (ms), else RESTING or ABSENT. */
  due(universes: readonly number[], levels: Uint8Array, now: number): number {
    // The list seldom changes: look where it was last time first.
    if (universes[this.#index] !== this.universe) this.#index = universes.indexOf(this.universe)
    const offset = this.#index * SLOTS
    if (offset < 0 || offset + SLOTS > levels.length) {
      this.#index = 0
      return ABSENT
    }
    if (this.every) {
      this.live = true
      return offset
    }
    if (!this.live || this.#changed(levels, offset)) {
      this.live = true
      this.#repeats = REPEATS
      for (let i = 0; i < SLOTS; i++) this.#last[i] = levels[offset + i]!
    } else if (this.#repeats > 0) this.#repeats--
    else if (now - this.#sentAt < KEEP_ALIVE) return RESTING
    this.#sentAt = now
    return offset
  }

  #changed(levels: Uint8Array, offset: number): boolean {
    for (let i = 0; i < SLOTS; i++) if (this.#last[i] !== levels[offset + i]) return true
    return false
  }
}
