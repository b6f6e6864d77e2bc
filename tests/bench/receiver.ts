// The bench's hold on the process that counts packets: where it listens, and how many of a length have come to it.

import { type ChildProcess, fork } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'

export interface Receiver {
  port: number
  /** Packets of `length` octets that came, once `expected` have or no more are coming. */
  came(length: number, expected: number): Promise<number>
  close(): void
}

/** Askings without news after which nothing is on its way any more. */
const QUIET = 20

async function ask(child: ChildProcess): Promise<Record<number, number>> {
  const answer = once(child, 'message')
  child.send('counts')
  const [{ counts }] = (await answer) as [{ counts: Record<number, number> }]
  return counts
}

export async function openReceiver(): Promise<Receiver> {
  const child = fork(fileURLToPath(new URL('./packet-counter.ts', import.meta.url)))
  const [{ port }] = (await once(child, 'message')) as [{ port: number }]
  return {
    port,
    async came(length, expected) {
      let last = -1
      for (let quiet = 0; quiet < QUIET && last < expected; ) {
        const now = (await ask(child))[length] ?? 0
        quiet = now === last ? quiet + 1 : 0
        last = now
      }
      return last
    },
    close: () => child.disconnect(),
  }
}
