// Runs the timekeeping thread, and makes of its times what a frame's receiver would see: errors of the intervals.

import { Worker } from 'node:worker_threads'

export const RATE = 40
/** Left out at the start: the thread is still loading and compiling itself. */
const WARM_UP = 10

const thread = new URL('./interval-thread.ts', import.meta.url)
/** On Node 20 a thread does not take over the loader of TypeScript, so it first loads it itself. */
const LOAD = `import('tsx/esm/api').then(({ register }) => { register(); return import('${thread}') })`

export interface Timed {
  by: 'frame clock' | 'setInterval'
  /** Distance of each interval between two frames from the period, ms. */
  errors: number[]
  /** How far the last frame is behind where whole periods from the first would have put it, ms a second. */
  drift: number
}

/** Keeps time on a thread of this process for some seconds. */
export function timed(by: Timed['by'], seconds: number): Promise<Timed> {
  const frames = WARM_UP + Math.round(seconds * RATE) + 1
  const worker = new Worker(LOAD, {
    eval: true,
    workerData: { by, rate: RATE, frames },
  })
  return new Promise((resolve, reject) => {
    worker.once('error', reject)
    worker.once('message', (all: Float64Array) => {
      const at = all.subarray(WARM_UP)
      const period = 1000 / RATE
      const intervals = Array.from(at.subarray(1), (time, i) => time - at[i]!)
      const lasted = at[at.length - 1]! - at[0]!
      resolve({
        by,
        errors: intervals.map(interval => Math.abs(interval - period)),
        drift: ((lasted - intervals.length * period) / lasted) * 1000,
      })
    })
  })
}
