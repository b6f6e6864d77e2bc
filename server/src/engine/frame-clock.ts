// Keeps the frames' deadlines: frame n is due at origin + n × period, waited for by sleep, then by spin.

import { monotonicMs } from './now.ts'

/** The last stretch before a deadline is spun, as a sleeping thread wakes up to a millisecond late. */
const SPIN_MS = 1

export interface FrameClock {
  /** Ms of the machine's monotonic clock at which frame 0 was due. */
  readonly origin: number
  readonly rate: number
  /** Blocks this thread until the next frame is due, and returns its number; frames whose time has passed are left out. */
  next(): number
  dueAt(frame: number): number
  /** Frames left out because their whole interval had passed. */
  readonly skipped: number
}

/** @param rate frames a second, 1…44 */
export function frameClock(origin: number, rate: number, first: number): FrameClock {
  const period = 1000 / rate
  const sleeper = new Int32Array(new SharedArrayBuffer(4))
  let frame = first - 1
  let skipped = 0
  // A product, never a sum: errors cannot add up over a night.
  const dueAt = (n: number): number => origin + n * period
  return {
    origin,
    rate,
    dueAt,
    next() {
      frame++
      for (;;) {
        const now = monotonicMs()
        if (now >= dueAt(frame + 1)) {
          // Late by a whole period (the laptop slept, the disk stalled): go on with the frame of now, never a burst of old ones.
          const current = Math.floor((now - origin) / period)
          skipped += current - frame
          frame = current
          return frame
        }
        const due = dueAt(frame)
        if (now >= due) return frame
        const sleep = due - now - SPIN_MS
        // Looked at anew after each wait: the laptop may have slept in it, and this frame be half a minute old.
        if (sleep > 0) Atomics.wait(sleeper, 0, 0, sleep)
      }
    },
    get skipped() {
      return skipped
    },
  }
}
