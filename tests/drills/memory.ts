// Memory of the drilled processes over time: what they hold, and how fast that grows.

import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

export interface Held {
  /** Ms. */
  at: number
  bytes: number
}

/** Environment that makes every process of a `serve` write down its heaps. */
export const probed = (file: string): Record<string, string> => ({
  NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ''} --require ${fileURLToPath(new URL('./heap-probe.cjs', import.meta.url))}`,
  GLOWCHART_HEAP: file,
})

interface Row {
  at: number
  pid: number
  thread: number
  heap: number
}

/** The heaps of a process, by thread, of those that wrote for at least half of the time. */
export function heapsOf(file: string, pid: number): Held[][] {
  const rows = readFileSync(file, 'utf8')
    .trim()
    .split('\n')
    .map(line => JSON.parse(line) as Row)
  const threads = new Map<number, Held[]>()
  for (const { at, pid: of, thread, heap } of rows) {
    if (of !== pid) continue
    const held = threads.get(thread) ?? []
    held.push({ at, bytes: heap })
    threads.set(thread, held)
  }
  return [...threads.entries()].sort(([a], [b]) => a - b).map(([, held]) => held)
}

/** Resident memory of a process as the kernel tells it (proc(5): VmRSS), bytes; NaN where there is no /proc. */
export function residentOf(pid: number): number {
  try {
    const [, kilobytes] = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? []
    return Number(kilobytes) * 1024
  } catch {
    return Number.NaN
  }
}

/**
 * Growth in MB an hour: the straight line through the least of each `window` ms (a heap rises until it is swept), by
 * least squares, without the first fifth, in which the processes warm up.
 */
export function slopeOf(held: readonly Held[], window = 30_000): number {
  const first = held[0]?.at ?? 0
  const lasted = (held.at(-1)?.at ?? 0) - first
  const least = new Map<number, Held>()
  for (const one of held) {
    if (one.at - first < lasted / 5) continue
    const key = Math.floor((one.at - first) / window)
    const so = least.get(key)
    if (!so || one.bytes < so.bytes) least.set(key, one)
  }
  const points = [...least.values()].map(({ at, bytes }) => ({ x: (at - first) / 3_600_000, y: bytes / 1e6 }))
  const n = points.length
  const mean = (of: (p: { x: number; y: number }) => number): number =>
    points.reduce((sum, p) => sum + of(p), 0) / n
  const [mx, my] = [mean(p => p.x), mean(p => p.y)]
  return mean(p => (p.x - mx) * (p.y - my)) / mean(p => (p.x - mx) ** 2)
}
