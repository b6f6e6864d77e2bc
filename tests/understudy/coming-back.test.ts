// A laptop of a pair that is switched off and on again: it must not put out the light that has gone on without it.

import { createSocket } from 'node:dgram'
import { once } from 'node:events'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Stand } from '@glowchart/server/engine/loop-messages.ts'
import type { PairSide } from '@glowchart/server/engine/pair-side.ts'
import { openPartnership } from '@glowchart/server/understudy/partner.ts'
import { type Output, outputSchema } from '@glowchart/shared/show/output.ts'
import { expect, it } from 'vitest'
import { tempFolder } from '../support/processes.ts'

const to = { protocol: 'artnet', host: '127.0.0.1', portAddress: 1 }
const sending = outputSchema.parse({ routes: [{ universe: 1, to }] })

/** Follows, is switched off, sends to what it is then told to, and is switched on again. */
async function switchedOffAndOn(meanwhile: Output) {
  const socket = createSocket('udp4').bind(0, '127.0.0.1')
  await once(socket, 'listening')
  const { port } = socket.address()
  socket.close()
  await once(socket, 'close')
  const folder = tempFolder()
  const partner = {
    id: '8f14a0de-6a43-4d26-9b1e-1d2a5b6c7d8e',
    name: 'Stage left',
    secret: '07'.repeat(32),
    address: '127.0.0.1',
    port: 9,
  }
  const kept = { id: '1b9d6bcd-bbfd-4b2d-9b5d-ab8dfbbd4bed', on: true, port, term: 3, leads: false, partner }
  writeFileSync(join(folder.path, 'understudy.json'), JSON.stringify(kept))
  const stands: Stand[] = []
  let output = sending
  const pair: PairSide = {
    holding: null,
    get output() {
      return output
    },
    transport: null,
    piece: null,
    stand: one => {
      stands.push(one)
      output = one.output ?? output
    },
    mirror() {},
    order() {},
    adopt() {},
  }
  const partnership = openPartnership({
    dataFolder: folder.path,
    pair,
    now: () => performance.now(),
    interfaces: () => [],
    tellCode() {},
  })
  expect(partnership.status.state).toBe('follows')
  await partnership.ask({ do: 'allow', on: false })
  expect(partnership.status.state).toBe('off')
  expect(stands.at(-1)).toMatchObject({ silent: false, output: { routes: [] } })
  output = meanwhile
  await partnership.ask({ do: 'allow', on: true })
  const { state } = partnership.status
  partnership.close()
  folder.remove()
  return { state, silent: stands.at(-1)!.silent }
}

it('follows again, as it did', async () => {
  expect(await switchedOffAndOn(outputSchema.parse({}))).toEqual({ state: 'follows', silent: true })
})

it('leads when it drives a light of its own by then', async () => {
  expect(await switchedOffAndOn(sending)).toEqual({ state: 'leads', silent: false })
})
