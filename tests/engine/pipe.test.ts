// The pipe between the processes: a reader who has stopped reading costs the engine no memory.

import { once } from 'node:events'
import { connect } from 'node:net'
import { engineAddress, type Pipe, servePipe } from '@glowchart/server/engine/pipe.ts'
import { expect, it } from 'vitest'
import { tempFolder } from '../support/processes.ts'

it('loses a reader who reads nothing any more before what waits for it fills the memory', async () => {
  const folder = tempFolder()
  const address = engineAddress(folder.path)
  const pipes: Pipe[] = []
  let closed = 0
  const server = await servePipe(address, {
    opened: pipe => pipes.push(pipe),
    closed: () => closed++,
    message() {},
  })
  const reader = connect(address)
  reader.pause()
  reader.on('error', () => {})
  while (pipes.length === 0) await new Promise(resolve => setImmediate(resolve))
  const megabyte = Buffer.alloc(1 << 20)
  for (let i = 0; i < 60; i++) pipes[0]!.send(megabyte)
  expect(pipes[0]!.waiting).toBeGreaterThan(32 << 20)
  await new Promise(resolve => setImmediate(resolve))
  expect(closed).toBe(0)
  for (let i = 0; i < 20; i++) pipes[0]!.send(megabyte)
  while (closed === 0) await new Promise(resolve => setImmediate(resolve))
  expect(pipes[0]!.waiting).toBeLessThan(80 << 20)
  reader.destroy()
  server.close()
  await once(server, 'close')
  folder.remove()
})
