// Fuzzes areas in a thread with a limit to its memory, and watches that none hangs.

import { Worker } from 'node:worker_threads'

export interface AreaWork {
  names: readonly string[]
  /** For each. */
  ms: number
  seed: number
  /** So many cases at most, of each. */
  most: number
  /** For each: cases done, cases refused, the longest in ms. */
  progress: Int32Array
}

export interface AreaFigures {
  cases: number
  refused: number
  slowestMs: number
}

const thread = new URL('./area-thread.ts', import.meta.url)
/** On Node 20 a thread does not take over the loader of TypeScript, so it first loads it itself. */
const LOAD = `import('tsx/esm/api').then(({ register }) => { register(); return import('${thread}') })`

/** One case that takes longer hangs, on however busy a machine. */
const HANG_MS = 20_000
const HEAP_MIB = 512

/** Resolves with the figures of each. Rejects with the first find, naming its area and seed. */
export function runAreas(
  names: readonly string[],
  { ms, seed, most = Number.POSITIVE_INFINITY }: { ms: number; seed: number; most?: number },
): Promise<AreaFigures[]> {
  const progress = new Int32Array(new SharedArrayBuffer(12 * names.length))
  const worker = new Worker(LOAD, {
    eval: true,
    workerData: { names, ms, seed, most, progress } satisfies AreaWork,
    resourceLimits: { maxOldGenerationSizeMb: HEAP_MIB },
  })
  return new Promise((resolve, reject) => {
    let seen = ''
    const fail = (error: Error): void => {
      clearInterval(watch)
      void worker.terminate()
      reject(error)
    }
    const watch = setInterval(() => {
      const now = progress.join()
      if (now === seen)
        fail(new Error(`it hangs; cases, refused, slowest of each area: ${now}; from seed ${seed}`))
      seen = now
    }, HANG_MS)
    worker.once('error', fail)
    worker.once('message', () => {
      clearInterval(watch)
      resolve(
        names.map((_, i) => ({
          cases: progress[3 * i]!,
          refused: progress[3 * i + 1]!,
          slowestMs: progress[3 * i + 2]!,
        })),
      )
      void worker.terminate()
    })
  })
}
