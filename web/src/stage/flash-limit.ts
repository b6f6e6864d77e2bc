// Holds the preview's own flashing to three a second: more than that on a screen near the eyes can harm.

/** Flashes a second that are shown as they are: the general flash limit of WCAG 2.2, success criterion 2.3.1. */
const MOST = 3
/** A flash: up by a tenth of full light from a state under 0.80 of it, and down again (WCAG 2.2, "general flash"). */
const STEP = 0.1
const DARKER = 0.8
/** How long the mean looks back, ms: longer than one cycle of the slowest flashing that is held. */
const MEMORY = 340

export interface FlashLimit {
  /** 1 for every fixture that is held now. */
  readonly held: Uint8Array
  /**
   * While the stage as a whole flashes too often, replaces the light of the fixtures that do by its running mean.
   * @param light linear, 3 floats a cell; changed in place
   * @param now ms
   * @returns whether anything is held
   */
  hold(light: Float32Array, now: number): boolean
}

/** @param fixtures their cells, in order @param cells of the whole stage */
export function flashLimit(
  fixtures: readonly { firstCell: number; cells: number }[],
  cells: number,
): FlashLimit {
  const mean = new Float32Array(cells * 3)
  const flashers = fixtures.map(() => flasher())
  const whole = flasher()
  const held = new Uint8Array(fixtures.length)
  let last = Number.NaN

  return {
    held,
    hold(light, now) {
      held.fill(0)
      const keep = Number.isNaN(last) ? 0 : Math.exp(-Math.max(0, now - last) / MEMORY)
      last = now
      for (let i = 0; i < mean.length; i++) mean[i] = keep * mean[i]! + (1 - keep) * light[i]!
      let sum = 0
      for (const [i, f] of fixtures.entries()) {
        const level = brightness(light, f)
        flashers[i]!.take(level, now)
        sum += level
      }
      whole.take(sum / Math.max(1, fixtures.length), now)
      if (!whole.tooOften(now)) return false
      for (const [i, f] of fixtures.entries()) {
        if (!flashers[i]!.tooOften(now)) continue
        held[i] = 1
        for (let c = 3 * f.firstCell; c < 3 * (f.firstCell + f.cells); c++) light[c] = mean[c]!
      }
      return held.includes(1)
    },
  }
}

/** Not luminance alone: a full blue flash has little of it and is no less a flash to who sits in front of it. */
function brightness(light: Float32Array, { firstCell, cells }: { firstCell: number; cells: number }): number {
  let sum = 0
  for (let i = 3 * firstCell; i < 3 * (firstCell + cells); i += 3) {
    sum += Math.max(light[i]!, light[i + 1]!, light[i + 2]!)
  }
  return sum / cells
}

/** Counts the flashes of one brightness over time. */
function flasher() {
  /** Times of the last flashes, the oldest at `at`. */
  const flashes = new Float64Array(MOST + 1).fill(Number.NEGATIVE_INFINITY)
  let at = 0
  let rising = false
  let turn = 0
  return {
    take(level: number, now: number): void {
      turn = rising ? Math.max(turn, level) : Math.min(turn, level)
      if (rising && turn - level >= STEP && level < DARKER) {
        flashes[at] = now
        at = (at + 1) % flashes.length
      } else if (rising || level - turn < STEP || turn >= DARKER) return
      rising = !rising
      turn = level
    },
    tooOften: (now: number): boolean => now - flashes[at]! <= 1000,
  }
}
