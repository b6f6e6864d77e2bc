// Our packets read by tshark: from a capture file that the product wrote, and live from loopback.

import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { artPoll } from '@glowchart/server/output/artnet.ts'
import { openOutputs } from '@glowchart/server/output/outputs.ts'
import { captureFrames, pcapWriter } from '@glowchart/server/output/pcap.ts'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openInbox } from '../support/inbox.ts'
import { captureLoopback, decodeFile, testLiveCapture, testWithTshark } from '../support/tshark.ts'
import { pollReply } from './fake-node.ts'
import { cid, levels, type OutputInput, output } from './routes.ts'

const FIELDS = [
  'frame.time_epoch',
  'frame.len',
  'ip.src',
  'ip.dst',
  'udp.dstport',
  'udp.payload',
  'artnet.header.id',
  'artnet.header.opcode',
  'artnet.header.protver',
  'artnet.output.universe',
  'artnet.output.sequence',
  'artnet.output.physical',
  'artnet.output.length',
  'acn.cid',
  'acn.preamble_size',
  'acn.packet_identifier',
  'acn.pdu.length',
  'acn.dmx.source_name',
  'acn.dmx.universe',
  'acn.dmx.priority',
  'acn.dmx.seq_number',
  'acn.dmx.option_p',
  'acn.dmx.option_s',
  'acn.dmx.reserved',
  'acn.dmx.start_code2',
  'acn.dmx.count',
  'acn.dmp_vector',
  '_ws.malformed',
  '_ws.expert',
] as const
type Row = Record<(typeof FIELDS)[number], string>

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'glowchart-pcap-'))
})
afterAll(() => rm(folder, { recursive: true }))

const FRAMES = 20
const input: OutputInput = {
  sync: 40,
  sourceName: 'Zwölf Lampen',
  routes: [
    { universe: 1, to: { protocol: 'artnet', host: '10.1.2.3', portAddress: 291 } },
    { universe: 2, via: '10.1.2.1', to: { protocol: 'artnet', host: '127.0.0.1', portAddress: 32767 } },
    {
      universe: 1,
      to: { protocol: 'sacn', host: 'multicast', wireUniverse: 1000, priority: 150, mode: 'every' },
    },
    {
      universe: 2,
      to: { protocol: 'sacn', host: '127.0.0.1', wireUniverse: 63999, preview: true, mode: 'every' },
    },
  ],
}

function capture(): Uint8Array {
  const parts: Uint8Array[] = []
  const frames = captureFrames(output(input), { cid }, bytes => parts.push(bytes))
  for (let n = 0; n < FRAMES; n++) frames.frame([1, 2], levels(2, n), n * 25)
  frames.end()
  return Buffer.concat(parts)
}

const universeBytes = (index: number, n: number) =>
  Buffer.from(levels(2, n).subarray(index * 512, index * 512 + 512)).toString('hex')

function expectArtnet(rows: Row[], index: number, portAddress: number): void {
  expect(rows).toHaveLength(FRAMES)
  for (const [n, row] of rows.entries()) {
    expect(row).toMatchObject({
      'artnet.header.id': 'Art-Net',
      'artnet.header.opcode': '0x5000',
      'artnet.header.protver': '14',
      'artnet.output.universe': String(portAddress),
      'artnet.output.sequence': String(n + 1),
      'artnet.output.physical': '0',
      'artnet.output.length': '512',
      '_ws.malformed': '',
    })
    expect(row['udp.payload'].slice(2 * 18)).toBe(universeBytes(index, n))
  }
}

function expectE131(rows: Row[], index: number, universe: number, more: Partial<Row>): void {
  for (const [n, row] of rows.entries()) {
    const ended = n >= FRAMES
    expect(row).toMatchObject({
      'acn.cid': 'a0a1a2a3-a4a5-a6a7-a8a9-aaabacadaeaf',
      'acn.preamble_size': '16',
      'acn.packet_identifier': 'ASC-E1.17',
      'acn.pdu.length': '622',
      'acn.dmx.source_name': 'Zwölf Lampen',
      'acn.dmx.universe': String(universe),
      'acn.dmx.seq_number': String(n),
      'acn.dmx.option_s': ended ? '1' : '0',
      'acn.dmx.reserved': '40', // tshark 4.0 does not name the synchronization address
      'acn.dmx.start_code2': '0',
      'acn.dmx.count': '513',
      'acn.dmp_vector': '2',
      '_ws.malformed': '',
      ...more,
    })
    expect(row['udp.payload'].length).toBe(2 * 638)
    expect(row['udp.payload'].slice(2 * 126)).toBe(universeBytes(index, Math.min(n, FRAMES - 1)))
  }
  expect(rows).toHaveLength(FRAMES + 3)
}

testWithTshark(
  'a capture file that we wrote decodes to every field that was meant, both protocols',
  async () => {
    const path = join(folder, 'frames.pcap')
    await writeFile(path, capture())
    const rows = await decodeFile(path, FIELDS)
    const to = (host: string, test: (row: Row) => boolean) =>
      rows.filter(row => row['ip.dst'] === host && test(row))
    const isArtDmx = (row: Row) => row['artnet.header.opcode'] === '0x5000'
    const isData = (row: Row) => row['acn.dmx.universe'] !== ''

    expect(rows.every(row => row['_ws.malformed'] === '' && row['_ws.expert'] === '')).toBe(true)
    expectArtnet(to('10.1.2.3', isArtDmx), 0, 291)
    expectArtnet(to('127.0.0.1', isArtDmx), 1, 32767)
    expectE131(to('239.255.3.232', isData), 0, 1000, {
      'acn.dmx.priority': '150',
      'acn.dmx.option_p': '0',
      'udp.dstport': '5568',
    })
    expectE131(to('127.0.0.1', isData), 1, 63999, { 'acn.dmx.priority': '100', 'acn.dmx.option_p': '1' })

    // ArtSync after each frame's ArtDmx, to each of the two nodes.
    const syncs = rows.filter(row => row['artnet.header.opcode'] === '0x5200')
    expect(syncs.map(row => row['ip.dst'])).toEqual(
      Array.from({ length: 2 * FRAMES }, (_, i) => (i % 2 ? '127.0.0.1' : '10.1.2.3')),
    )
    expect(syncs.every(row => row['udp.payload'].length === 2 * 14)).toBe(true)
    // tshark 4.0 does not dissect E1.31 sync and discovery: octets by E1.31-2018 Tables 4-2 and 4-3.
    const octets = (row: Row, from: number, to: number) => row['udp.payload'].slice(2 * from, 2 * to)
    const e131Sync = rows.filter(row => row['udp.payload'].length === 2 * 49)
    expect(new Set(e131Sync.map(row => row['ip.dst']))).toEqual(new Set(['239.255.0.40', '127.0.0.1']))
    expect(e131Sync).toHaveLength(2 * FRAMES)
    expect(
      e131Sync.every(row => octets(row, 18, 22) === '00000008' && octets(row, 40, 44) === '00000001'),
    ).toBe(true)
    expect(e131Sync.every(row => octets(row, 45, 47) === '0028')).toBe(true)
    const discovery = rows.filter(row => octets(row, 112, 118) === '700c00000001')
    expect(discovery.map(row => [row['ip.dst'], octets(row, 118, 124)])).toEqual([
      ['239.255.250.214', '0000002803e8'],
      ['127.0.0.1', '00000028f9ff'],
    ])
    expect(rows.length).toBe(2 * FRAMES + 2 * FRAMES + 2 * (FRAMES + 3) + 2 * FRAMES + 2)
    // Times, and where the packets say they come from.
    expect(rows.filter(isArtDmx).map(row => Number(row['frame.time_epoch']))).toEqual(
      Array.from({ length: 2 * FRAMES }, (_, i) => ((i >> 1) * 25) / 1000),
    )
    expect(new Set(rows.map(row => row['ip.src']))).toEqual(new Set(['0.0.0.0', '10.1.2.1', '127.0.0.1']))
  },
)

testWithTshark('IP and UDP checksums are right, by tshark, for payloads of odd and even length', async () => {
  const parts: Uint8Array[] = []
  const packet = pcapWriter(bytes => parts.push(bytes))
  const to = { host: '127.0.0.1', port: 4321, via: undefined, multicast: false }
  for (let length = 1; length < 60; length++) packet(levels(1, length).subarray(0, length), to, length)
  const path = join(folder, 'checksums.pcap')
  await writeFile(path, Buffer.concat(parts))
  const check = ['-o', 'ip.check_checksum:TRUE', '-o', 'udp.check_checksum:TRUE']
  const rows = await decodeFile(path, ['ip.checksum.status', 'udp.checksum.status'], check)
  expect(rows).toHaveLength(59)
  for (const row of rows) expect(row).toEqual({ 'ip.checksum.status': '1', 'udp.checksum.status': '1' })
})

testWithTshark(
  'ArtPoll, and the ArtPollReply that our tests answer with, are what tshark takes them for',
  async () => {
    const parts: Uint8Array[] = []
    const packet = pcapWriter(bytes => parts.push(bytes))
    const to = { host: '127.0.0.1', port: 6454, via: undefined, multicast: false }
    packet(artPoll(), to, 0)
    const node = {
      address: '127.0.0.1',
      shortName: 'Box node',
      longName: 'Node in the box',
      net: 1,
      subNet: 2,
    }
    packet(pollReply({ ...node, ports: [{ output: 3 }] }), to, 1)
    const path = join(folder, 'poll.pcap')
    await writeFile(path, Buffer.concat(parts))
    const rows = await decodeFile(path, [
      'artnet.header.opcode',
      'artnet.header.protver',
      'artnet.poll.talktome',
      'artnet.poll_reply.ip_address',
      'artnet.poll_reply.short_name',
      'artnet.poll_reply.long_name',
      'artnet.poll_reply.netswitch',
      'artnet.poll_reply.subswitch',
      'artnet.poll_reply.num_ports',
      'artnet.poll_reply.port_types_1',
      'artnet.poll_reply.swout_1',
      '_ws.malformed',
    ])
    expect(rows).toMatchObject([
      {
        'artnet.header.opcode': '0x2000',
        'artnet.header.protver': '14',
        'artnet.poll.talktome': '0x00',
        '_ws.malformed': '',
      },
      {
        'artnet.header.opcode': '0x2100',
        'artnet.poll_reply.ip_address': '127.0.0.1',
        'artnet.poll_reply.short_name': 'Box node',
        'artnet.poll_reply.long_name': 'Node in the box',
        'artnet.poll_reply.num_ports': '1',
        'artnet.poll_reply.port_types_1': '0x80',
        '_ws.malformed': '',
      },
    ])
  },
)

test('the same frames give the same file, byte for byte', () => {
  expect(capture()).toEqual(capture())
})

testLiveCapture(
  'packets captured live on loopback decode to what was sent, through dmxnet and our own sender',
  async () => {
    const artnet = await openInbox()
    const sacn = await openInbox()
    const live = captureLoopback([artnet.port, sacn.port], artnet.port, FIELDS)
    // A capture takes a while to begin: knock until it shows.
    const knock = setInterval(() => artnet.socket.send('knock', sacn.port, '127.0.0.1'), 50)
    const knocked = Buffer.from('knock').toString('hex')
    await live.until(row => row['udp.payload'] === knocked)
    clearInterval(knock)

    const outputs = await openOutputs(
      output({
        sync: 40,
        sourceName: 'Zwölf Lampen',
        routes: [
          { universe: 1, to: { protocol: 'artnet', host: '127.0.0.1', port: artnet.port, portAddress: 291 } },
          {
            universe: 2,
            to: { protocol: 'sacn', host: '127.0.0.1', port: sacn.port, wireUniverse: 1000, mode: 'every' },
          },
        ],
      }),
      { cid },
    )
    for (let n = 0; n < FRAMES; n++) {
      outputs.send([1, 2], levels(2, n), n * 25)
      await new Promise(setImmediate)
    }
    await outputs.close()
    await live.until(row => row['acn.dmx.seq_number'] === String(FRAMES + 2))
    await live.stop()
    const to = (port: number) => live.rows.filter(row => row['udp.dstport'] === String(port))
    expectArtnet(
      to(artnet.port).filter(row => row['artnet.header.opcode'] === '0x5000'),
      0,
      291,
    )
    expect(to(artnet.port).filter(row => row['artnet.header.opcode'] === '0x5200')).toHaveLength(FRAMES)
    expectE131(
      to(sacn.port).filter(row => row['acn.dmx.universe'] !== ''),
      1,
      1000,
      { 'acn.dmx.priority': '100' },
    )
    await artnet.close()
    await sacn.close()
  },
)
