// Finding nodes over real UDP on loopback, with the test holding the timers.

import { decodeArtDmx } from '@glowchart/server/output/artnet.ts'
import { type Discovery, openDiscovery } from '@glowchart/server/output/discovery.ts'
import type { Network } from '@glowchart/shared/messages.ts'
import { afterEach, expect, test, vi } from 'vitest'
import { type Inbox, openInbox } from '../support/inbox.ts'
import { pollReply } from './fake-node.ts'

const loopback = { name: 'lo', address: '127.0.0.1', netmask: '255.0.0.0' }
const node = { address: '127.0.0.1', shortName: 'Box node', longName: 'Node in the box', net: 1, subNet: 2 }

const everywhere = { everywhere: true, hosts: [] }

const closing: (() => Promise<void>)[] = []
afterEach(async () => {
  vi.useRealTimers()
  for (const close of closing.splice(0).reverse()) await close()
})

/** A discovery that polls one fake node on loopback, and the lists it has reported. */
async function open(): Promise<{
  discovery: Discovery
  box: Inbox
  lists: Network[]
  told: () => Promise<void>
}> {
  const box = await openInbox()
  closing.push(box.close)
  const lists: Network[] = []
  let wake = () => {}
  const discovery = await openDiscovery({
    bind: '127.0.0.1',
    port: 0,
    interfaces: () => [loopback],
    targets: [{ address: '127.0.0.1', port: box.port }],
    onNetwork: network => {
      lists.push(network)
      wake()
    },
    clock: () => Date.now(),
  })
  closing.push(discovery.close)
  const told = () => {
    const before = lists.length
    return new Promise<void>(resolve => {
      wake = () => lists.length > before && resolve()
      wake()
    })
  }
  return { discovery, box, lists, told }
}

test('a press polls at once and every 2.5 to 3 s, three times, and then is quiet', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'Date'] })
  const { discovery, box } = await open()
  const times: number[] = []
  const start = Date.now()
  discovery.ask(everywhere)
  await box.until(1)
  for (let step = 0; step < 200; step++) {
    const before = box.packets.length
    vi.advanceTimersByTime(100)
    await new Promise(setImmediate)
    await new Promise(setImmediate)
    if (box.packets.length > before) times.push(Date.now() - start)
  }
  expect(times).toEqual([2800, 5500]) // 2750 and 5500, seen in steps of 100
  expect(box.packets.every(packet => packet.length === 14 && packet.readUInt16LE(8) === 0x2000)).toBe(true)
  expect(box.packets).toHaveLength(3)
})

test('a node that answers is listed with its outputs, and silent 3 s after a poll that it leaves unanswered', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'Date'] })
  const { discovery, box, lists, told } = await open()
  discovery.ask(everywhere)
  await box.until(1)
  const listed = told()
  box.socket.send(
    pollReply({ ...node, ports: [{ output: 3 }, { output: 4 }] }),
    box.from[0]!.port,
    '127.0.0.1',
  )
  await listed
  const heard = {
    address: '127.0.0.1',
    port: box.port,
    name: 'Box node',
    longName: 'Node in the box',
    portAddresses: [0x123, 0x124],
    lastSeen: Date.now(),
    silent: false,
    says: '',
  }
  expect(lists.at(-1)).toEqual({ interfaces: [loopback], nodes: [heard], says: '' })
  vi.advanceTimersByTime(2750 + 3000)
  expect(discovery.network().nodes).toEqual([heard])
  const gone = told()
  vi.advanceTimersByTime(20)
  await gone
  expect(lists.at(-1)!.nodes).toEqual([{ ...heard, silent: true }])
})

test('a single address is asked by itself, and the whole network is not', async () => {
  const { discovery, box, lists } = await open()
  const single = await openInbox()
  closing.push(single.close)
  discovery.ask({ everywhere: false, hosts: [{ address: '127.0.0.1', port: single.port }] })
  await single.until(1)
  single.socket.send(pollReply({ ...node, ports: [{ output: 1 }] }), single.from[0]!.port, '127.0.0.1')
  await vi.waitFor(() =>
    expect(lists.at(-1)!.nodes).toMatchObject([{ port: single.port, name: 'Box node', silent: false }]),
  )
  expect(box.packets).toHaveLength(0)
})

test('packets that are no ArtPollReply, and broken ones, are passed over', async () => {
  const { discovery, box, lists } = await open()
  discovery.ask(everywhere)
  await box.until(1)
  const { port } = box.from[0]!
  const whole = pollReply({ ...node, ports: [{ output: 1 }] })
  for (const bytes of [new Uint8Array(), whole.subarray(0, 100), Uint8Array.of(1, 2, 3), whole]) {
    box.socket.send(bytes, port, '127.0.0.1')
  }
  await vi.waitFor(() => expect(lists.at(-1)!.nodes[0]?.name).toBe('Box node'))
  expect(lists).toHaveLength(2) // the poll, and the one whole reply
  expect(decodeArtDmx(whole)).toBeNull()
})

test('a hundred answers at once are told of in one breath, and none is lost', async () => {
  const { discovery, box, lists } = await open()
  discovery.ask(everywhere)
  await box.until(1)
  const { port } = box.from[0]!
  for (let i = 0; i < 100; i++) {
    // A node's further answers come under bind indexes of their own (Art-Net 4, octet 211).
    const bytes = pollReply({ ...node, ports: [{ output: i % 16 }] })
    bytes[211] = 1 + i
    bytes[18] = i >> 4
    box.socket.send(bytes, port, '127.0.0.1')
    if (i % 20 === 19) await new Promise(setImmediate)
  }
  await vi.waitFor(() => expect(lists.at(-1)!.nodes[0]?.portAddresses).toHaveLength(100))
  expect(lists.length).toBeLessThan(8)
})

test('a port that another program holds is reported in words, another is used meanwhile, and it is had once it is free', async () => {
  const holder = await openInbox()
  const discovery = await openDiscovery({
    bind: '127.0.0.1',
    port: holder.port,
    interfaces: () => [loopback],
    targets: [],
    onNetwork: () => {},
  })
  closing.push(discovery.close)
  expect(discovery.network().says).toBe(
    `Another program on this laptop uses UDP ${holder.port}, so some nodes cannot be heard: close it.`,
  )
  expect(discovery.port).not.toBe(0)
  expect(discovery.port).not.toBe(holder.port)
  const { port } = holder
  await holder.close()
  discovery.ask(everywhere)
  await vi.waitFor(() => expect(discovery.port).toBe(port))
  expect(discovery.network().says).toBe('')
})
