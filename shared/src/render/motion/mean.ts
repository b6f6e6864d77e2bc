// What a motion shows on average: for a stopped clock, and for cycles too short for the frames.

import type { Motion } from '../../light/schema.ts'
import { ringAt } from './ring.ts'
import { swellAt } from './swell.ts'
import { fallAt, passingFall, passingWindow } from './window.ts'

/** Samples of a cycle. */
const SAMPLES = 128

/**
 * The values (0…1) that an element takes over one cycle and the share of the cycle that each takes, in turn:
 * [m, share, m, share, …], shares summing to 1. Light is averaged over them, not m. Empty for sustain, and for sway,
 * filament and drift, which a frame reads where it begins.
 */
function meanOf({ kind, duty, shape }: Motion): Float64Array {
  switch (kind) {
    case 'strobe':
      return Float64Array.of(1, duty, 0, 1 - duty)
    case 'swell':
      return sampled(u => swellAt(u, duty, shape), 1)
    case 'chase':
    case 'answer':
      return sampled(u => passingWindow(u, 0, duty, shape), 1)
    case 'ring':
      return sampled(u => ringAt(u, 0, duty, shape), 1)
    case 'pulse':
    case 'cascade':
      // Only over the fall itself, so that a short hit is not lost between two samples.
      return sampled(u => passingFall(u * duty, 0, duty, shape), duty)
    case 'scatter':
      return sampled(u => fallAt(u, shape), duty)
    case 'sustain':
    case 'sway':
    case 'filament':
    case 'drift':
      return new Float64Array(0)
  }
}

/** Tables kept: more than any song has, while a motion's shape is dragged through a thousand. */
const MOST_KEPT = 1000

/** As `meanOf`; equal motions share one array, as a song has thousands of cues and few of these. */
export function meanTables(): (motion: Motion) => Float64Array {
  const tables = new Map<string, Float64Array>()
  return motion => {
    const key = `${motion.kind} ${motion.duty} ${motion.shape}`
    let table = tables.get(key)
    if (!table) {
      table = meanOf(motion)
      if (tables.size >= MOST_KEPT) tables.clear()
      tables.set(key, table)
    }
    return table
  }
}

/** Samples `share` of the cycle; the rest of it is dark. */
function sampled(outline: (u: number) => number, share: number): Float64Array {
  const values = new Float64Array(2 * (SAMPLES + 1))
  for (let i = 0; i < SAMPLES; i++) {
    values[2 * i] = outline((i + 0.5) / SAMPLES)
    values[2 * i + 1] = share / SAMPLES
  }
  values[2 * SAMPLES + 1] = 1 - share
  return values
}
