// Fuzzes one area in a thread with a limit to its memory, and watches that it does not hang.

import { Worker } from 'node:worker_threads'

export interface AreaWork {
  name: string
  ms: number
  seed: number
  /** So many cases at most. */
  most: number
  /** Cases done, cases refused, the longest in ms. */
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

/** Resolves with the figures. Rejects with the first find, naming its seed. */
export function runArea(
  name: string,
  { ms, seed, most = Number.POSITIVE_INFINITY }: { ms: number; seed: number; most?: number },
): Promise<AreaFigures> {
  const progress = new Int32Array(new SharedArrayBuffer(12))
  const worker = new Worker(LOAD, {
    eval: true,
    workerData: { name, ms, seed, most, progress } satisfies AreaWork,
    resourceLimits: { maxOldGenerationSizeMb: HEAP_MIB },
  })
  return new Promise((resolve, reject) => {
    let seen = -1
    const watch = setInterval(() => {
      const cases = Atomics.load(progress, 0)
      if (cases === seen) fail(new Error(`seed ${seed + cases}: it hangs`))
      seen = cases
    }, HANG_MS)
    const fail = (error: Error): void => {
      clearInterval(watch)
      void worker.terminate()
      reject(new Error(`${name}: ${error.message}`, { cause: error }))
    }
    worker.once('error', fail)
    worker.once('message', () => {
      clearInterval(watch)
      const [cases = 0, refused = 0, slowestMs = 0] = progress
      resolve({ cases, refused, slowestMs })
      void worker.terminate()
    })
  })
}
