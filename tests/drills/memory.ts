// What the drilled processes hold over time, written down by themselves, and how fast it grows.

import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

export interface Sample {
  /** Ms of the machine's monotonic clock. */
  at: number
  value: number
}

/** Environment that makes every process of a `serve` write down what it holds. */
export const probed = (file: string): Record<string, string> => ({
  NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ''} --require ${fileURLToPath(new URL('./heap-probe.cjs', import.meta.url))}`,
  GLOWCHART_HEAP: file,
})

/**
 * Memory in MB: `heap` what lives in it, `committed` what it has taken from the system, `young` the share of that for
 * what was just made, `external` array buffers and the like. And handles that are open, without timers.
 */
type Held = 'resident' | 'heap' | 'committed' | 'young' | 'external' | 'handles'

type Row = Record<Held, number> & { at: number; pid: number; thread: number }

export interface Notes {
  /** What each thread of a process held, in the order that they began. */
  threads(pid: number, what: Held): Sample[][]
  /** The same of the process as a whole: resident memory, or all that its first thread has. */
  process(pid: number, what: Held): Sample[]
}

/** Reads what was written down so far. */
export function notesIn(file: string): Notes {
  const rows = readFileSync(file, 'utf8')
    .split('\n')
    .slice(0, -1)
    .map(line => JSON.parse(line) as Row)
  const threads: Notes['threads'] = (of, what) => {
    const samples = new Map<number, Sample[]>()
    for (const row of rows) {
      if (row.pid !== of) continue
      const held = samples.get(row.thread) ?? []
      held.push({ at: row.at, value: what === 'handles' ? row.handles : row[what] / 1e6 })
      samples.set(row.thread, held)
    }
    return [...samples.entries()].sort(([a], [b]) => a - b).map(([, held]) => held)
  }
  return { threads, process: (pid, what) => threads(pid, what)[0] ?? [] }
}

/**
 * Growth an hour: the straight line through the least of each `window` ms (a heap rises until it is swept), by least
 * squares, without the first fifth, in which the processes warm up.
 */
export function slopeOf(held: readonly Sample[], window = 30_000): number {
  const first = held[0]?.at ?? 0
  const lasted = (held.at(-1)?.at ?? 0) - first
  const least = new Map<number, Sample>()
  for (const one of held) {
    if (one.at - first < lasted / 5) continue
    const key = Math.floor((one.at - first) / window)
    const so = least.get(key)
    if (!so || one.value < so.value) least.set(key, one)
  }
  const points = [...least.values()].map(({ at, value }) => ({ x: (at - first) / 3_600_000, y: value }))
  const n = points.length
  const mean = (of: (p: { x: number; y: number }) => number): number =>
    points.reduce((sum, p) => sum + of(p), 0) / n
  const [mx, my] = [mean(p => p.x), mean(p => p.y)]
  return mean(p => (p.x - mx) * (p.y - my)) / mean(p => (p.x - mx) ** 2)
}
