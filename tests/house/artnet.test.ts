// The house's Art-Net at the one owner of its port, over loopback: polls are answered, ArtDmx is taken.

import { createSocket } from 'node:dgram'
import { once } from 'node:events'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { createDesk } from '@glowchart/server/house/desk.ts'
import { artPollReply, decodeArtPollReply } from '@glowchart/server/output/artnet.ts'
import { openDiscovery } from '@glowchart/server/output/discovery.ts'
import { pcapWriter } from '@glowchart/server/output/pcap.ts'
import type { LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import { afterEach, expect, it, vi } from 'vitest'
import { openInbox } from '../support/inbox.ts'
import { tempFolder } from '../support/processes.ts'
import { decodeFile, testWithTshark } from '../support/tshark.ts'
import { artDmxOctets } from './packets.ts'

const closing: (() => unknown)[] = []
afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close()
})

async function open(takes: number | null, interfaces: LocalInterface[] = []) {
  const desk = createDesk(new Uint8Array(16), () => {})
  desk.expect({ from: { protocol: 'artnet', portAddress: 291 }, blackout: 1, master: 2 })
  const discovery = await openDiscovery({
    bind: '127.0.0.1',
    port: 0,
    interfaces: () => interfaces,
    targets: [],
    onNetwork() {},
    takes: () => takes,
    onArtDmx: (packet, from) => desk.hearArtnet(packet, from, performance.now()),
  })
  const controller = await openInbox()
  closing.push(discovery.close, controller.close)
  const send = (bytes: Uint8Array) => controller.socket.send(bytes, discovery.port, '127.0.0.1')
  return { desk, controller, send }
}

/** Art-Net 4, ArtPoll: identifier, OpPoll 0x2000 low byte first, version 14, flags, priority. */
const POLL = Buffer.from('4172742d4e657400002000 0e0000'.replaceAll(' ', ''), 'hex')

it('answers a controller’s poll as a node that takes the house’s Port-Address, and takes what it then sends', async () => {
  const { desk, controller, send } = await open(291)
  send(POLL)
  const [reply] = await controller.until(1)
  expect(reply!.length).toBe(239)
  // Art-Net 4, ArtPollReply: OpCode 0x2100, port 0x1936 low byte first, NetSwitch 1, SubSwitch 2, one output port,
  // SwOut 3, Status2 bit 3 (15-bit Port-Addresses).
  expect([...reply!.subarray(8, 10)]).toEqual([0x00, 0x21])
  expect([...reply!.subarray(14, 16)]).toEqual([0x36, 0x19])
  expect([reply![18], reply![19], reply![173], reply![174], reply![190], reply![212]]).toEqual([
    1, 2, 1, 0x80, 3, 8,
  ])
  expect(decodeArtPollReply(reply!)).toMatchObject({
    address: '127.0.0.1',
    outputs: [291],
    shortName: 'Glowchart',
  })
  send(artDmxOctets(291, [255, 51]))
  await vi.waitFor(() => expect(desk.house).toEqual({ blackout: true, grand: 0.2 }))
  send(artDmxOctets(290, [0, 255]))
  send(artDmxOctets(291, [0, 255]))
  await vi.waitFor(() => expect(desk.house).toEqual({ blackout: false, grand: 1 }))
  expect(desk.status().source).toBe('127.0.0.1')
})

it('answers nobody while no house is listened for, and never itself', async () => {
  const loopback = { name: 'lo', address: '127.0.0.1', netmask: '255.0.0.0' }
  for (const [takes, interfaces] of [
    [null, []],
    [291, [loopback]],
  ] as const) {
    const { desk, controller, send } = await open(takes, [...interfaces])
    send(POLL)
    // What comes after the poll has been heard: so has the poll.
    send(artDmxOctets(291, [255, 255]))
    await vi.waitFor(() => expect(desk.house.blackout).toBe(true))
    const socket = createSocket('udp4')
    socket.send('end', controller.port, '127.0.0.1')
    const [first] = await controller.until(1)
    expect(String(first)).toBe('end')
    socket.close()
    await once(socket, 'close')
  }
})

testWithTshark('the answer to a poll is what tshark takes it for', async () => {
  const folder = tempFolder()
  closing.push(folder.remove)
  const parts: Uint8Array[] = []
  const to = { host: '127.0.0.1', port: 6454, via: undefined, multicast: false }
  pcapWriter(bytes => parts.push(bytes))(artPollReply('10.0.0.5', 291), to, 0)
  const path = join(folder.path, 'reply.pcap')
  writeFileSync(path, Buffer.concat(parts))
  const rows = await decodeFile(path, [
    'artnet.header.opcode',
    'artnet.poll_reply.ip_address',
    'artnet.poll_reply.short_name',
    'artnet.poll_reply.long_name',
    'artnet.poll_reply.node_report',
    'artnet.poll_reply.netswitch',
    'artnet.poll_reply.num_ports',
    'artnet.poll_reply.port_types_1',
    '_ws.malformed',
  ])
  expect(rows).toMatchObject([
    {
      'artnet.header.opcode': '0x2100',
      'artnet.poll_reply.ip_address': '10.0.0.5',
      'artnet.poll_reply.short_name': 'Glowchart',
      'artnet.poll_reply.long_name': 'Glowchart, house input',
      'artnet.poll_reply.num_ports': '1',
      'artnet.poll_reply.port_types_1': '0x80',
      '_ws.malformed': '',
    },
  ])
})
