// The frame loop's thread, as it is shipped: the ways out that were asked for last are the ones that are open.

import { once } from 'node:events'
import { MessageChannel, Worker } from 'node:worker_threads'
import type { FromLoop, ToLoop } from '@glowchart/server/engine/loop-messages.ts'
import { outputSchema } from '@glowchart/shared/show/output.ts'
import { expect, it } from 'vitest'

it('sends nothing when it was told to send and, in the same breath, to send no more', async () => {
  const { port1: port, port2 } = new MessageChannel()
  const worker = new Worker(new URL('../../server/dist/loop.js', import.meta.url), {
    workerData: { port: port2, cid: new Uint8Array(16) },
    transferList: [port2],
  })
  const send = (message: ToLoop) => port.postMessage(message)
  const heard: FromLoop[] = []
  port.on('message', message => heard.push(message))
  const has = async (done: () => boolean) => {
    while (!done()) await once(port, 'message')
  }
  await has(() => heard.some(({ type }) => type === 'ready'))
  // Art-Net takes longer to open than silence. Port 9 answers nothing (RFC 863).
  const to = { protocol: 'artnet', host: '127.0.0.1', port: 9, portAddress: 1 }
  send({ type: 'output', id: 1, output: outputSchema.parse({ routes: [{ universe: 1, to }] }) })
  send({ type: 'output', id: 2, output: outputSchema.parse({}) })
  await has(() => heard.filter(({ type }) => type === 'answer').length === 2)
  const from = heard.length
  const later = () => heard.slice(from).filter(message => message.type === 'status')
  await has(() => later().length > 1)
  expect(later().at(-1)).toMatchObject({ status: { outputs: [] }, resume: { output: { routes: [] } } })
  send({ type: 'end' })
  await has(() => heard.some(({ type }) => type === 'ended'))
  port.close()
  await worker.terminate()
})
