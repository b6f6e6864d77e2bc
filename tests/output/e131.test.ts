// E1.31 packets against ANSI E1.31-2018: lengths, octets, addresses, and the rule that drops old sequence numbers.

import {
  dataPacket,
  decodeE131,
  discoveryPackets,
  isOutOfOrder,
  multicastGroup,
  patchData,
  patchSync,
  sourceNameOctets,
  syncPacket,
  terminated,
} from '@glowchart/server/output/e131.ts'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cid, levels } from './routes.ts'

const header = { cid, sourceName: 'Glowchart', universe: 1000, priority: 120, preview: false, sync: 7 }
const hex = (bytes: Uint8Array, from: number, to: number) =>
  Buffer.from(bytes.subarray(from, to)).toString('hex')

describe('a data packet (E1.31-2018 Table 4-1)', () => {
  const packet = dataPacket(header)
  const slots = levels(1, 1)
  patchData(packet, slots, 0, 201)

  test.each([
    [0, 2, '0010', 'preamble size'],
    [2, 4, '0000', 'postamble size'],
    [4, 16, '4153432d45312e3137000000', 'ACN packet identifier'],
    [16, 18, '726e', 'root flags and length (622)'],
    [18, 22, '00000004', 'root vector'],
    [22, 38, 'a0a1a2a3a4a5a6a7a8a9aaabacadaeaf', 'CID'],
    [38, 40, '7258', 'framing flags and length (600)'],
    [40, 44, '00000002', 'framing vector'],
    [44, 54, '476c6f77636861727400', 'source name'],
    [54, 108, '00'.repeat(54), 'rest of the source name'],
    [108, 109, '78', 'priority'],
    [109, 111, '0007', 'synchronization address'],
    [111, 112, 'c9', 'sequence'],
    [112, 113, '00', 'options: no preview, not terminated, no forced synchronization'],
    [113, 115, '03e8', 'universe'],
    [115, 117, '720b', 'DMP flags and length (523)'],
    [117, 118, '02', 'DMP vector'],
    [118, 119, 'a1', 'address and data type'],
    [119, 121, '0000', 'first property address'],
    [121, 123, '0001', 'address increment'],
    [123, 125, '0201', 'property value count (513)'],
    [125, 126, '00', 'START code'],
  ])('holds at octets %i to %i: %s (%s)', (from, to, expected) => {
    expect(hex(packet, from, to)).toBe(expected)
  })

  test('has 638 octets, the last 512 the slots', () => {
    expect(packet.length).toBe(638)
    expect([...packet.subarray(126)]).toEqual([...slots])
  })

  test('says preview with option bit 7, and the end of the stream with bit 6 of another packet (6.2.6)', () => {
    const preview = dataPacket({ ...header, preview: true })
    expect(preview[112]).toBe(0x80)
    const end = terminated(preview, 9)
    expect([end[111], end[112]]).toEqual([9, 0xc0])
    expect([preview[111], preview[112]]).toEqual([0, 0x80])
  })
})

test('a source name is cut at 63 octets between characters, so that its field ends with a null (Table 4-1)', () => {
  expect(sourceNameOctets('x'.repeat(70))).toHaveLength(63)
  expect(new TextDecoder().decode(sourceNameOctets('é'.repeat(40)))).toBe('é'.repeat(31))
  expect(new TextDecoder().decode(sourceNameOctets(`${'x'.repeat(61)}💡`))).toBe('x'.repeat(61))
  expect(new TextDecoder().decode(sourceNameOctets(`${'x'.repeat(59)}💡`))).toBe(`${'x'.repeat(59)}💡`)
  expect(dataPacket({ ...header, sourceName: '💡'.repeat(63) })[107]).toBe(0)
})

test('a synchronization packet has 49 octets: sequence at 44, address at 45, reserved at 47 (Table 4-2)', () => {
  const packet = syncPacket(cid, 0x1234)
  patchSync(packet, 77)
  expect(packet.length).toBe(49)
  expect(hex(packet, 0, 22)).toBe('001000004153432d45312e3137000000702100000008')
  expect(hex(packet, 38, 49)).toBe('700b000000014d12340000')
})

describe('universe discovery (Table 4-3)', () => {
  test('has 120 octets with no universe and 1144 with 512, with all lengths to the end of the packet', () => {
    expect(discoveryPackets(cid, 'Glowchart', [])).toHaveLength(1)
    const empty = discoveryPackets(cid, 'Glowchart', [])[0]!
    expect(empty.length).toBe(120)
    expect([hex(empty, 16, 22), hex(empty, 38, 44), hex(empty, 108, 120)]).toEqual([
      '706800000008', // 104 from octet 16
      '705200000002', // 82 from octet 38
      '000000007008000000010000', // reserved; 8 from octet 112; vector 1; page 0 of 0
    ])
    const full = discoveryPackets(
      cid,
      'Glowchart',
      Array.from({ length: 512 }, (_, i) => i + 1),
    )[0]!
    expect(full.length).toBe(1144)
    expect([hex(full, 16, 18), hex(full, 38, 40), hex(full, 112, 114)]).toEqual(['7468', '7452', '7408'])
  })

  test('lists every universe once, in order, at most 512 on a page (8.5)', () => {
    const universes = Array.from({ length: 1100 }, (_, i) => 1100 - i)
    const pages = discoveryPackets(cid, 'Glowchart', [...universes, 5, 6]).map(page => decodeE131(page))
    expect(pages.map(page => page?.kind === 'discovery' && [page.page, page.lastPage])).toEqual([
      [0, 2],
      [1, 2],
      [2, 2],
    ])
    const listed = pages.flatMap(page => (page?.kind === 'discovery' ? page.universes : []))
    expect(listed).toEqual(Array.from({ length: 1100 }, (_, i) => i + 1))
  })
})

test.each([
  [1, '239.255.0.1'],
  [256, '239.255.1.0'],
  [1000, '239.255.3.232'],
  [63999, '239.255.249.255'],
  [64214, '239.255.250.214'],
])('universe %i has the multicast group %s (E1.31-2018 9.3.1, Table 9-10)', (universe, group) => {
  expect(multicastGroup(universe)).toBe(group)
})

test.each([
  [10, true],
  [9, true],
  [247, true], // −19
  [246, false], // −20
  [11, false],
])('after sequence 10, a receiver that follows E1.31-2018 6.7.2 drops %i: %s', (sequence, dropped) => {
  expect(isOutOfOrder(sequence, 10)).toBe(dropped)
})

describe('reading', () => {
  test('gives back what was written', () => {
    const packet = dataPacket({ ...header, preview: true, sourceName: 'Zwölf Lampen' })
    const slots = levels(1, 4)
    patchData(packet, slots, 0, 42)
    expect(decodeE131(packet)).toEqual({
      kind: 'data',
      cid,
      sourceName: 'Zwölf Lampen',
      priority: 120,
      sync: 7,
      sequence: 42,
      preview: true,
      terminated: false,
      forceSync: false,
      universe: 1000,
      startCode: 0,
      slots,
    })
    const sync = syncPacket(cid, 9)
    patchSync(sync, 3)
    expect(decodeE131(sync)).toEqual({ kind: 'sync', cid, sequence: 3, sync: 9 })
  })

  test('refuses what E1.31 forbids: universe 0, priority above 200, a length that does not fit', () => {
    for (const [octet, value] of [
      [113, 0xfa],
      [108, 201],
      [17, 0],
      [116, 0],
      [124, 0],
      [0, 1],
      [4, 0],
      [21, 5],
      [43, 9],
    ]) {
      const packet = dataPacket(header)
      packet[octet!] = value!
      expect(decodeE131(packet), `octet ${octet}`).toBeNull()
    }
    expect(decodeE131(dataPacket({ ...header, universe: 0 }))).toBeNull()
  })

  test('never throws, whatever the bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 1200 }), bytes => {
        decodeE131(bytes)
      }),
    )
    const kinds = [dataPacket(header), syncPacket(cid, 1), discoveryPackets(cid, 'x', [1, 2, 3])[0]!]
    const change = fc.tuple(fc.nat(700), fc.nat(255))
    fc.assert(
      fc.property(fc.constantFrom(...kinds), fc.array(change), fc.nat(700), (packet, changes, length) => {
        const bytes = Uint8Array.from(packet.subarray(0, Math.max(0, packet.length - length)))
        for (const [at, value] of changes) if (at < bytes.length) bytes[at] = value
        decodeE131(bytes)
      }),
    )
  })
})
