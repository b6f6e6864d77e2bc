// Which frames the pages are told: all of a stage that moves or changes; of one at rest, the same again now and then.

/** So long after the last change, ms, every frame is told still: what a page averages over time comes to rest too. */
const SETTLES = 1000
/** Of a stage at rest a frame is told so often, ms: a page that was behind has it then. */
const AGAIN = 500

export interface FrameNews {
  /**
   * Whether this frame is to be told; it counts as told then.
   * @param of what is played: another one is a change, whatever it looks like
   * @param moves the position will be another one in the next frame
   * @param due ms, rising from call to call
   */
  isNews(of: object | null, levels: Uint8Array, position: number, moves: boolean, due: number): boolean
  /** Somebody new looks: the next frame is told. */
  begin(): void
}

export function frameNews(): FrameNews {
  const before: { of: object | null; position: number } = { of: null, position: Number.NaN }
  let seen = new Uint8Array(0)
  let changed = Number.NEGATIVE_INFINITY
  let told = Number.NEGATIVE_INFINITY
  return {
    isNews(of, levels, position, moves, due) {
      if (moves || of !== before.of || position !== before.position || !areEqual(levels, seen)) {
        changed = due
        before.of = of
        before.position = position
        if (seen.length !== levels.length) seen = new Uint8Array(levels.length)
        seen.set(levels)
      }
      if (due - changed > SETTLES && due - told < AGAIN) return false
      told = due
      return true
    },
    begin() {
      told = Number.NEGATIVE_INFINITY
    },
  }
}

function areEqual(a: Uint8Array, b: Uint8Array): boolean {
  if (a.length !== b.length) return false
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false
  return true
}
