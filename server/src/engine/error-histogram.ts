// How far frames were from their due times: a histogram with fixed steps, so that hours cost no memory.

const STEP_MS = 0.01
/** 100 ms in all; what is worse counts in the last step, and the worst is kept exactly. */
const STEPS = 10_000

export interface ErrorHistogram {
  add(errorMs: number): void
  /** The error (ms) that a share 0…1 of the frames stayed within, rounded up to 0.01 ms; 0 before any frame. */
  within(share: number): number
  readonly worst: number
  readonly count: number
}

export function errorHistogram(): ErrorHistogram {
  const bins = new Uint32Array(STEPS)
  let worst = 0
  let count = 0
  return {
    add(errorMs) {
      const error = Math.abs(errorMs)
      if (error > worst) worst = error
      count++
      const bin = Math.min(STEPS - 1, Math.floor(error / STEP_MS))
      bins[bin] = bins[bin]! + 1
    },
    within(share) {
      if (count === 0) return 0
      let seen = 0
      for (let bin = 0; bin < STEPS; bin++) {
        seen += bins[bin]!
        if (seen >= share * count) return Math.min(worst, (bin + 1) * STEP_MS)
      }
      return worst
    },
    get worst() {
      return worst
    },
    get count() {
      return count
    },
  }
}
