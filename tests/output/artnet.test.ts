// Art-Net packets against the published Art-Net 4 specification (Artistic Licence), and against dmxnet's bytes.

import {
  artDmx,
  artPoll,
  artSync,
  decodeArtDmx,
  decodeArtPollReply,
  nextSequence,
  patchArtDmx,
} from '@glowchart/server/output/artnet.ts'
import {
  composePortAddress,
  portAddressText,
  splitPortAddress,
} from '@glowchart/shared/network/port-address.ts'
import { dmxnet } from 'dmxnet'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { pollReply } from './fake-node.ts'
import { levels } from './routes.ts'

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex')

test.each([
  [0, 0, 1, 1],
  [0, 1, 0, 16],
  [1, 0, 0, 256],
  [1, 2, 3, 291],
  [127, 15, 15, 32767],
])(
  'Net %i, Sub-Net %i, Universe %i is Port-Address %i (Art-Net 4: 7, 4 and 4 bits)',
  (net, subNet, universe, address) => {
    expect(composePortAddress({ net, subNet, universe })).toBe(address)
    expect(splitPortAddress(address)).toEqual({ net, subNet, universe })
    expect(portAddressText(address)).toBe(`${net}:${subNet}:${universe}`)
  },
)

test('an ArtDmx has 530 octets: opcode little-endian, version 14, sequence, Sub-Uni before Net, length big-endian', () => {
  const packet = artDmx(291)
  const slots = levels(1, 2)
  patchArtDmx(packet, slots, 0, 7)
  expect(packet.length).toBe(530)
  expect(hex(packet.subarray(0, 18))).toBe('4172742d4e65740000 50 000e 07 00 23 01 0200'.replaceAll(' ', ''))
  expect([...packet.subarray(18)]).toEqual([...slots])
  expect(decodeArtDmx(packet)).toEqual({ sequence: 7, physical: 0, portAddress: 291, slots })
})

test('ArtSync and ArtPoll have 14 octets', () => {
  expect(hex(artSync())).toBe('4172742d4e657400 0052 000e 0000'.replaceAll(' ', ''))
  expect(hex(artPoll())).toBe('4172742d4e657400 0020 000e 0000'.replaceAll(' ', ''))
})

test('sequence numbers run 1…255 and begin again at 1: 0 would mean that they are not used', () => {
  expect([nextSequence(1), nextSequence(254), nextSequence(255)]).toEqual([2, 255, 1])
  const all = new Set<number>()
  for (let sequence = 1, i = 0; i < 1000; i++, sequence = nextSequence(sequence)) all.add(sequence)
  expect([Math.min(...all), Math.max(...all), all.size]).toEqual([1, 255, 255])
})

describe('an ArtPollReply', () => {
  const node = { address: '127.0.0.1', shortName: 'Box node', longName: 'Node in the box', net: 1, subNet: 2 }

  test('gives name, address and the Port-Addresses of its outputs, not of its inputs', () => {
    const reply = pollReply({ ...node, ports: [{ output: 3 }, { input: 4 }, { output: 15 }] })
    expect(reply.length).toBe(239)
    expect(decodeArtPollReply(reply)).toEqual({
      address: '127.0.0.1',
      shortName: 'Box node',
      longName: 'Node in the box',
      report: '#0001 [0000] ready',
      bindIndex: 1,
      outputs: [0x123, 0x12f],
    })
  })

  test('is read from older, shorter replies too, down to the last octet that is needed', () => {
    const reply = pollReply({ ...node, ports: [{ output: 3 }] })
    for (const length of [239, 212, 207, 194])
      expect(decodeArtPollReply(reply.subarray(0, length))?.outputs).toEqual([0x123])
    expect(decodeArtPollReply(reply.subarray(0, 193))).toBeNull()
  })

  test('made by dmxnet, which did not learn the layout from us, is read right', () => {
    const other = new dmxnet({
      listen: 6456,
      hosts: ['127.0.0.1'],
      sName: 'Other',
      lName: 'Another node',
      log: { silent: true },
    })
    other.listener4.close()
    other.socket.close()
    const sent: Uint8Array[] = []
    other.socket = { send: (bytes: Uint8Array) => sent.push(bytes) } as unknown as typeof other.socket
    other.newReceiver({ net: 5, subnet: 6, universe: 7 })
    expect(sent).toHaveLength(1)
    expect(decodeArtPollReply(sent[0]!)).toMatchObject({
      address: '127.0.0.1',
      shortName: 'Other',
      longName: 'Another node',
      outputs: [composePortAddress({ net: 5, subNet: 6, universe: 7 })],
    })
  })

  test('cannot put control characters on a screen', () => {
    const reply = pollReply({ ...node, shortName: 'a\u001b[2Jb\nc', ports: [] })
    expect(decodeArtPollReply(reply)?.shortName).toBe('a[2Jbc')
  })
})

test('reading never throws, whatever the bytes', () => {
  const kinds = [
    artDmx(1),
    pollReply({ address: '127.0.0.1', shortName: 'x', longName: 'x', net: 0, subNet: 0, ports: [] }),
  ]
  fc.assert(
    fc.property(
      fc.oneof(fc.uint8Array({ maxLength: 300 }), fc.constantFrom(...kinds)),
      fc.array(fc.tuple(fc.nat(300), fc.nat(255))),
      fc.nat(600),
      (packet, changes, length) => {
        const bytes = Uint8Array.from(packet.subarray(0, length))
        for (const [at, value] of changes) if (at < bytes.length) bytes[at] = value
        decodeArtDmx(bytes)
        decodeArtPollReply(bytes)
      },
    ),
  )
})
