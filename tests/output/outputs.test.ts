// The real sockets on loopback: what arrives is what was handed over, when it was, and nothing besides.

import { spawn } from 'node:child_process'
import { createSocket, Socket } from 'node:dgram'
import { once } from 'node:events'
import { networkInterfaces } from 'node:os'
import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import { artDmx, decodeArtDmx, patchArtDmx } from '@glowchart/server/output/artnet.ts'
import { decodeE131 } from '@glowchart/server/output/e131.ts'
import { openOutputs } from '@glowchart/server/output/outputs.ts'
import { openStreams } from '@glowchart/server/output/streams.ts'
import { dmxnet } from 'dmxnet'
import { Receiver } from 'sacn'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { type Inbox, openInbox } from '../support/inbox.ts'
import { cid, levels, type OutputInput, output, record } from './routes.ts'

const closing: (() => Promise<unknown>)[] = []
afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close()
})

async function inbox(): Promise<Inbox> {
  const opened = await openInbox()
  closing.push(opened.close)
  return opened
}

async function open(input: OutputInput) {
  const opened = await openOutputs(output(input), { cid })
  closing.push(() => opened.close())
  return opened
}

async function freePort(): Promise<number> {
  const socket = createSocket('udp4')
  socket.bind(0, '127.0.0.1')
  await once(socket, 'listening')
  const { port } = socket.address()
  socket.close()
  await once(socket, 'close')
  return port
}

const to = {
  artnet: (port: number, portAddress: number) => ({
    protocol: 'artnet' as const,
    host: '127.0.0.1',
    port,
    portAddress,
  }),
  sacn: (port: number, wireUniverse: number) => ({
    protocol: 'sacn' as const,
    host: '127.0.0.1',
    port,
    wireUniverse,
  }),
}

test('the network gets the very bytes that the packet streams (and so a capture file) hold, in their order', async () => {
  const box = await inbox()
  const input: OutputInput = {
    sync: 12,
    routes: [
      { universe: 1, to: to.artnet(box.port, 291) },
      { universe: 2, to: to.artnet(box.port, 32767) },
      { universe: 1, to: { ...to.sacn(box.port, 5), priority: 130, preview: true, mode: 'every' } },
      { universe: 2, to: to.sacn(box.port, 6) },
    ],
  }
  const expected = record(openStreams(output(input), { cid }))
  const outputs = await open(input)
  for (let n = 0; n < 300; n++) {
    const bytes = levels(2, n >> 3)
    outputs.send([1, 2], bytes, n * 25)
    expected.frame([1, 2], bytes, n * 25)
    await box.until(expected.sent.length)
  }
  await outputs.close()
  expected.end()
  await box.until(expected.sent.length)
  expect(box.packets.map(packet => packet.toString('hex'))).toEqual(
    expected.sent.map(one => Buffer.from(one.bytes).toString('hex')),
  )
})

describe('dmxnet', () => {
  test('left to itself puts the same ArtDmx on the wire as our encoder, for any Port-Address and sequence', async () => {
    const box = await inbox()
    const library = new dmxnet({ listen: await freePort(), hosts: ['none'], log: { silent: true } })
    const sender = library.newSender({ net: 3, subnet: 14, universe: 5, ip: '127.0.0.1', port: box.port })
    clearInterval(sender.interval)
    const slots = levels(1, 6)
    sender.values = [...slots]
    sender.transmit()
    await box.until(2)
    closing.push(async () => {
      sender.stop()
      library.listener4.close()
      library.socket.close()
    })
    const ours = artDmx((3 << 8) | (14 << 4) | 5)
    patchArtDmx(ours, slots, 0, 2)
    expect(Uint8Array.from(box.packets[1]!)).toEqual(ours)
    // The fault that the adapter is there for: the first packet is a frame of zeros that nobody asked for.
    expect(decodeArtDmx(box.packets[0]!)!.slots.every(level => level === 0)).toBe(true)
  })

  test('behind the adapter sends nothing of its own: no zero frame, no announcement, no repeats, no listener', async () => {
    const script = fileURLToPath(new URL('quiet-output.ts', import.meta.url))
    const box = await inbox()
    const child = spawn(process.execPath, ['--import', 'tsx', script, String(box.port)], {
      stdio: ['ignore', 'pipe', 'inherit'],
    })
    let said = ''
    child.stdout.on('data', chunk => {
      said += chunk
    })
    // It waits 1.2 s between its two frames: longer than dmxnet's own refresh. That it exits shows no timer is left.
    const [code] = await once(child, 'exit')
    expect(code).toBe(0)
    await box.until(2)
    expect(box.packets.map(packet => [decodeArtDmx(packet)!.sequence, packet[18]])).toEqual([
      [1, 11],
      [2, 22],
    ])
    // The sockets of the process: one, from which it sends.
    expect(JSON.parse(said)).toEqual({ sockets: 1 })
  }, 20_000)
})

test('packets leave before send returns: the caller may block at once', async () => {
  const shared = new Int32Array(new SharedArrayBuffer(8))
  const receiver = new Worker(
    `const { workerData, parentPort } = require('node:worker_threads')
     const socket = require('node:dgram').createSocket('udp4')
     socket.on('message', () => { Atomics.add(workerData, 0, 1); Atomics.notify(workerData, 0) })
     socket.bind(0, '127.0.0.1', () => parentPort.postMessage(socket.address().port))`,
    { eval: true, workerData: shared },
  )
  closing.push(() => receiver.terminate())
  const [port] = (await once(receiver, 'message')) as [number]
  const outputs = await open({
    routes: [
      { universe: 1, to: to.artnet(port, 1) },
      { universe: 1, to: to.sacn(port, 1) },
    ],
  })
  outputs.send([1], levels(1, 1), 0)
  // No turn of this thread's event loop from here on.
  const deadline = Date.now() + 5000
  for (let seen = 0; seen < 3 && Date.now() < deadline; seen = Atomics.load(shared, 0))
    Atomics.wait(shared, 0, seen, 1000)
  expect(Atomics.load(shared, 0)).toBe(3) // ArtDmx, E1.31 data, universe discovery
})

describe('independent receivers', () => {
  test('dmxnet receives our ArtDmx, every slot as sent', async () => {
    const port = await freePort()
    const library = new dmxnet({ listen: port, hosts: ['none'], log: { silent: true } })
    await once(library.listener4, 'listening')
    const receiver = library.newReceiver({ net: 1, subnet: 2, universe: 3 })
    closing.push(async () => {
      library.listener4.close()
      library.socket.close()
    })
    const outputs = await open({ routes: [{ universe: 8, to: to.artnet(port, 0x123) }] })
    for (let n = 0; n < 20; n++) {
      const arrived = once(receiver, 'data')
      outputs.send([8], levels(1, n), n * 25)
      expect((await arrived)[0]).toEqual([...levels(1, n)])
    }
    expect(outputs.status()[0]).toMatchObject({ packets: 20, errors: 0, says: '' })
  })

  test.each(['127.0.0.1', 'multicast'])(
    'the sacn package receives our data packets sent to %s',
    async host => {
      const port = await freePort()
      const receiver = new Receiver({ universes: [1000], port, iface: '127.0.0.1', reuseAddr: true })
      closing.push(() => new Promise<void>(done => receiver.close(done)))
      await once((receiver as unknown as { socket: NodeJS.EventEmitter }).socket, 'listening')
      const route = { ...to.sacn(port, 1000), host, priority: 120, mode: 'every' as const }
      const outputs = await open({
        sourceName: 'Loopback',
        routes: [{ universe: 3, via: '127.0.0.1', to: route }],
      })
      for (let n = 0; n < 300; n++) {
        // Its packets and errors come as events; a fault of ours would come as "PacketCorruption" and end this in time.
        const arrived = once(receiver as unknown as NodeJS.EventEmitter, 'packet')
        outputs.send([3], levels(1, n), n * 25)
        const [packet] = await arrived
        expect(Uint8Array.from(packet.payloadAsBuffer)).toEqual(levels(1, n))
        expect(packet).toMatchObject({
          universe: 1000,
          priority: 120,
          sourceName: 'Loopback',
          sequence: n & 255,
          options: 0,
        })
        expect(Uint8Array.from(packet.cid)).toEqual(cid)
      }
    },
  )
})

describe('a send error', () => {
  test('is counted on its own route and said in plain words, while the other routes go on', async () => {
    const box = await inbox()
    // No such address on this computer (TEST-NET-1, RFC 5737), so the socket cannot be bound and nothing leaves.
    expect(
      Object.values(networkInterfaces())
        .flat()
        .some(one => one?.address === '192.0.2.77'),
    ).toBe(false)
    const outputs = await open({
      routes: [
        { universe: 1, via: '192.0.2.77', to: to.artnet(box.port, 1) },
        { universe: 1, via: '192.0.2.77', to: { ...to.sacn(box.port, 1), mode: 'every' } },
        { universe: 1, to: to.artnet(box.port, 2) },
      ],
    })
    for (let n = 0; n < 50; n++) outputs.send([1], levels(1, n), n * 25)
    await box.until(50)
    const says = expect.stringContaining('no network address 192.0.2.77 now')
    expect(outputs.status().map(({ packets, errors, says }) => ({ packets, errors, says }))).toEqual([
      { packets: 0, errors: 50, says },
      { packets: 0, errors: 50, says },
      { packets: 50, errors: 0, says: '' },
    ])
  })

  test('is said where the system holds packets back for good; meanwhile frames are dropped, not heaped up', async () => {
    const box = await inbox()
    const outputs = await open({ routes: [{ universe: 1, to: to.artnet(box.port, 1) }] })
    // As a network adapter that hangs: what is handed over waits.
    const waiting = vi.spyOn(Socket.prototype, 'getSendQueueCount').mockReturnValue(1)
    const send = vi.spyOn(Socket.prototype, 'send').mockImplementation(() => {})
    for (let n = 0; n < 40; n++) outputs.send([1], levels(1, n), n * 25)
    const handedOver = send.mock.calls.length
    waiting.mockRestore()
    send.mockRestore()
    expect(handedOver).toBe(10)
    const says = expect.stringContaining('wait in this computer and do not leave')
    expect(outputs.status()[0]).toMatchObject({ packets: 0, errors: 30, says })
    outputs.send([1], levels(1, 40), 1000)
    await box.until(1)
    expect(outputs.status()[0]).toMatchObject({ packets: 1, errors: 30, says: '' })
  })

  test('does not come from a host where nobody listens: every packet counts as sent', async () => {
    const outputs = await open({ routes: [{ universe: 1, to: to.artnet(await freePort(), 1) }] })
    for (let n = 0; n < 50; n++) {
      outputs.send([1], levels(1, n), n * 25)
      await new Promise(setImmediate)
    }
    expect(outputs.status()[0]).toMatchObject({ packets: 50, errors: 0 })
  })
})

test('closing ends the sACN streams with three packets, except those the next output carries on; later frames are ignored', async () => {
  const box = await inbox()
  const routes = [
    { universe: 1, to: to.sacn(box.port, 1) },
    { universe: 2, to: to.sacn(box.port, 2) },
  ]
  const outputs = await open({ routes })
  outputs.send([1, 2], levels(2, 1), 0)
  await outputs.close(output({ routes: routes.slice(1) }))
  outputs.send([1, 2], levels(2, 2), 25)
  await outputs.close()
  await box.until(6)
  const ended = box.packets
    .map(decodeE131)
    .flatMap(one => (one?.kind === 'data' && one.terminated ? [one.universe] : []))
  expect(ended).toEqual([1, 1, 1])
})
