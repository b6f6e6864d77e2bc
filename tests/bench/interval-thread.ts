// A thread that only keeps time: notes when each frame came, by the engine's frame clock or by a plain setInterval.

import { parentPort, workerData } from 'node:worker_threads'
import { frameClock } from '@glowchart/server/engine/frame-clock.ts'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import type { Timed } from './timed.ts'

const { by, rate, frames } = workerData as { by: Timed['by']; rate: number; frames: number }
const at = new Float64Array(frames)
let count = 0

/** Notes one frame; true once there are enough. */
function note(): boolean {
  at[count++] = monotonicMs()
  if (count < frames) return false
  parentPort!.postMessage(at, [at.buffer])
  return true
}

if (by === 'frame clock') {
  const clock = frameClock(monotonicMs(), rate, 0)
  // As the loop does: one turn of the event loop a frame.
  const frame = (): void => {
    clock.next()
    if (!note()) setImmediate(frame)
  }
  frame()
} else {
  const timer = setInterval(() => {
    if (note()) clearInterval(timer)
  }, 1000 / rate)
}
