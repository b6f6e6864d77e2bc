// A node for the benches: takes packets on loopback, and says when light changes there.

import { createSocket } from 'node:dgram'
import { once } from 'node:events'
import { type Output, outputSchema } from '@glowchart/shared/show/output.ts'

export interface NodeAtHand {
  /** Every frame of universe 1 to it, by sACN. */
  readonly output: Output
  readonly port: number
  /** When a packet came with other levels than the one before, ms (`performance.now`); the first packet counts. */
  change(): Promise<number>
  close(): void
}

/** Where the levels begin in an E1.31 data packet (ANSI E1.31-2018 table 4-1: property values at octet 125, start code first). */
const LEVELS = 126
/** Longer than anything that is measured. */
const GIVEN_UP = 20_000

export async function nodeAtHand(): Promise<NodeAtHand> {
  const socket = createSocket('udp4')
  socket.bind(0, '127.0.0.1')
  await once(socket, 'listening')
  const { port } = socket.address()
  let before: Buffer | null = null
  let heard: ((at: number) => void) | null = null
  socket.on('message', bytes => {
    const levels = bytes.subarray(LEVELS)
    const isSame = before?.equals(levels) === true
    before = Buffer.from(levels)
    if (isSame) return
    heard?.(performance.now())
    heard = null
  })
  return {
    port,
    output: outputSchema.parse({
      routes: [
        { universe: 1, to: { protocol: 'sacn', host: '127.0.0.1', port, mode: 'every', wireUniverse: 1 } },
      ],
    }),
    change: () =>
      new Promise((resolve, reject) => {
        const timer = setTimeout(() => reject(new Error('no light has changed at the node')), GIVEN_UP)
        heard = at => {
          clearTimeout(timer)
          resolve(at)
        }
      }),
    close: () => socket.close(),
  }
}
