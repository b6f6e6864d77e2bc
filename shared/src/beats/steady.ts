// Beat times found in a recording, or tapped: their even tempo, and the same pulse at half or double the rate.

/** Beats evenly spaced: beat i of those given lies at first + index · interval. Times in seconds of the recording. */
export interface SteadyBeats {
  readonly first: number
  /** Seconds from one beat to the next. */
  readonly interval: number
  /** How many beats each of those given stands after the first: gaps are counted through. */
  readonly indices: readonly number[]
}

/**
 * The line through beat times by least squares, fitted again without those that lie further from it than a tenth of a
 * beat. @param beats rising, s @returns null for fewer than two beats
 */
export function steadyBeats(beats: readonly number[]): SteadyBeats | null {
  if (beats.length < 2) return null
  const gaps = beats.slice(1).map((time, i) => time - beats[i]!)
  const median = gaps.toSorted((a, b) => a - b)[gaps.length >> 1]!
  if (!(median > 0)) return null
  let index = 0
  const indices = beats.map((_, i) => {
    if (i > 0) index += Math.max(1, Math.round(gaps[i - 1]! / median))
    return index
  })
  let fit = line(indices, beats)
  const near = beats.flatMap((time, i) =>
    Math.abs(time - fit.first - indices[i]! * fit.interval) < fit.interval / 10 ? [i] : [],
  )
  if (near.length >= 2) {
    fit = line(
      near.map(i => indices[i]!),
      near.map(i => beats[i]!),
    )
  }
  return { ...fit, indices }
}

function line(xs: readonly number[], ys: readonly number[]): { first: number; interval: number } {
  const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length
  const [mx, my] = [mean(xs), mean(ys)]
  let [above, below] = [0, 0]
  for (const [i, x] of xs.entries()) {
    above += (x - mx) * (ys[i]! - my)
    below += (x - mx) ** 2
  }
  const interval = above / below
  return { interval, first: my - interval * mx }
}

/** How fast the pulse is taken, against the one found. */
export type PulseRate = 0.5 | 1 | 2

/** The beats at another rate: every other one from the first on, or with one more in the middle of each gap. */
export function atRate(beats: readonly number[], rate: PulseRate): readonly number[] {
  if (rate === 1) return beats
  if (rate === 0.5) return beats.filter((_, i) => i % 2 === 0)
  return beats.flatMap((time, i) => (i + 1 < beats.length ? [time, (time + beats[i + 1]!) / 2] : [time]))
}

/** Beats on each side that the place of a beat is taken from. */
const REACH = 4
/** Further than this from an even pulse (s, root mean square), beats do not jitter: the tempo changes there. */
const JITTER = 0.02

/**
 * Beat times without the jitter of single onsets: each is read off the line through itself and the four on either
 * side; where the tempo changes, through the four on the side that is even. Gaps are filled, so that beat n is at
 * index n.
 */
export function smoothBeats(beats: readonly number[]): number[] {
  const steady = steadyBeats(beats)
  if (!steady) return [...beats]
  const { indices } = steady
  const around = (i: number, before: number, after: number) => {
    const [from, to] = [Math.max(0, i - before), Math.min(beats.length, i + after + 1)]
    const [xs, ys] = [indices.slice(from, to), beats.slice(from, to)]
    if (xs.length < 3) return { time: beats[i]!, off: Number.POSITIVE_INFINITY }
    const fit = line(xs, ys)
    const squares = xs.reduce((sum, x, j) => sum + (ys[j]! - fit.first - x * fit.interval) ** 2, 0)
    return { time: fit.first + fit.interval * indices[i]!, off: Math.sqrt(squares / xs.length) }
  }
  const smooth: number[] = []
  for (const [i, index] of indices.entries()) {
    let best = around(i, REACH, REACH)
    if (best.off > JITTER) {
      for (const side of [around(i, REACH, 0), around(i, 0, REACH)]) if (side.off < best.off) best = side
    }
    const last = smooth.length - 1
    for (let gap = last + 1; gap < index; gap++) {
      smooth.push(smooth[last]! + ((best.time - smooth[last]!) * (gap - last)) / (index - last))
    }
    smooth.push(best.time)
  }
  return smooth
}
