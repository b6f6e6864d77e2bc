// Starts the frame loop on a thread of its own, and is the other end of its port.

import { setPriority } from 'node:os'
import { MessageChannel, Worker } from 'node:worker_threads'
import type { FromLoop, ToLoop } from './loop-messages.ts'

export interface LoopThread {
  send(message: ToLoop): void
  /** Ends the thread at once; send `end` first, and wait for `ended`, to end the streams properly. */
  close(): Promise<void>
}

/**
 * Resolves once the loop is loaded; frames begin with the first message. A loop that fails later ends the process: better a new one within a second than an
 * engine that only looks alive.
 * @param cid 16 octets, see `installationId`
 */
export async function startLoop(cid: Uint8Array, hear: (message: FromLoop) => void): Promise<LoopThread> {
  const { port1: port, port2: loopPort } = new MessageChannel()
  const worker = new Worker(new URL('./loop.js', import.meta.url), {
    workerData: { port: loopPort, cid },
    transferList: [loopPort],
  })
  await new Promise<void>((resolve, reject) => {
    worker.once('error', reject)
    port.on('message', (message: FromLoop) => (message.type === 'ready' ? resolve() : hear(message)))
  })
  worker.on('error', error => {
    process.stderr.write(`The frame loop failed: ${error.stack}\n`)
    process.exit(70)
  })
  // Priorities are per thread on Linux only; the loop's thread is up and keeps its own.
  if (process.platform === 'linux') setPriority(0, 10)
  return {
    send: message => port.postMessage(message),
    async close() {
      port.close()
      await worker.terminate()
    },
  }
}
