// A thread that fuzzes areas, each until its time is over; what it does is in shared memory, so that a hang can be seen.

import { parentPort, workerData } from 'node:worker_threads'
import { random } from '../support/random.ts'
import { areas } from './areas.ts'
import type { AreaWork } from './run-area.ts'

const { names, ms, seed, most, progress: all } = workerData as AreaWork
const [CASES, REFUSED, SLOWEST] = [0, 1, 2] as const
/** Bytes outside the heap: the heap has a limit of its own. */
const MOST_BUFFERS = 512 * 1024 * 1024

for (const [i, name] of names.entries()) await fuzz(name, all.subarray(3 * i, 3 * i + 3))
parentPort!.postMessage('done')

async function fuzz(name: string, progress: Int32Array): Promise<void> {
  const area = await areas[name]!()
  const began = performance.now()
  try {
    for (let n = 0; n < most && performance.now() - began < ms; n++) {
      const before = performance.now()
      try {
        if ((await area.one(random(seed + n))) === 'refused') Atomics.add(progress, REFUSED, 1)
      } catch (cause) {
        throw new Error(`${name}, seed ${seed + n}: ${(cause as Error).message}`, { cause })
      }
      const { arrayBuffers } = process.memoryUsage()
      if (arrayBuffers > MOST_BUFFERS)
        throw new Error(`${name}, seed ${seed + n}: ${arrayBuffers} bytes are held`)
      const took = Math.round(performance.now() - before)
      if (took > Atomics.load(progress, SLOWEST)) Atomics.store(progress, SLOWEST, took)
      Atomics.add(progress, CASES, 1)
    }
  } finally {
    await area.close?.()
  }
}
