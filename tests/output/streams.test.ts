// What leaves in which frame: every-frame and changes mode, sync, discovery, ends and restarts, with the test as the clock.

import { decodeArtDmx } from '@glowchart/server/output/artnet.ts'
import { decodeE131, isOutOfOrder } from '@glowchart/server/output/e131.ts'
import { CONTROL } from '@glowchart/server/output/packet.ts'
import { keyOf, openStreams } from '@glowchart/server/output/streams.ts'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cid, levels, type OutputInput, output, record } from './routes.ts'

const sacn = (wireUniverse: number, more: object = {}) => ({
  universe: wireUniverse,
  to: { protocol: 'sacn' as const, host: '127.0.0.1', wireUniverse, ...more },
})
const artnet = (universe: number, more: object = {}) => ({
  universe,
  to: { protocol: 'artnet' as const, host: '127.0.0.1', portAddress: universe, ...more },
})
const open = (input: OutputInput, sequences: Record<string, number> = {}) =>
  openStreams(output(input), { cid, sequences })
const data = (bytes: Uint8Array) => {
  const packet = decodeE131(bytes)
  if (packet?.kind !== 'data') throw new Error('not a data packet')
  return packet
}

describe.each([
  [
    'sACN',
    { routes: [sacn(1, { mode: 'changes' })] },
    (bytes: Uint8Array) => decodeE131(bytes)?.kind === 'data',
  ],
  [
    'Art-Net',
    { routes: [artnet(1, { mode: 'changes' })] },
    (bytes: Uint8Array) => decodeArtDmx(bytes) !== null,
  ],
])('%s in changes mode', (_name, input, isData) => {
  test('sends a change, three repeats (E1.31-2018 6.6.2), then keep-alives 800 to 1000 ms apart at every rate', () => {
    for (let rate = 1; rate <= 44; rate++) {
      const wire = record(open(input))
      for (let n = 0; n < 10 * rate; n++) wire.frame([1], levels(1, 1), (n * 1000) / rate)
      const times = wire.sent.filter(one => isData(one.bytes)).map(one => one.at)
      const gaps = times.slice(1).map((at, i) => at - times[i]!)
      expect(gaps.slice(0, 3).every(gap => Math.abs(gap - 1000 / rate) < 1e-6)).toBe(true)
      const keepAlive = gaps.slice(3)
      expect(keepAlive.length).toBeGreaterThan(4)
      expect(Math.min(...keepAlive), `${rate} Hz`).toBeGreaterThanOrEqual(799.999)
      expect(Math.max(...keepAlive), `${rate} Hz`).toBeLessThanOrEqual(1000.001)
    }
  })

  test('sends any change in the frame in which it comes, wherever in the universe', () => {
    fc.assert(
      fc.property(fc.nat(511), fc.integer({ min: 1, max: 255 }), (slot, by) => {
        const wire = record(open(input))
        const bytes = levels(1, 3)
        for (let n = 0; n < 10; n++) wire.frame([1], bytes, n * 25)
        const before = wire.sent.filter(one => isData(one.bytes)).length
        bytes[slot] = bytes[slot]! + by
        wire.frame([1], bytes, 250)
        expect(wire.sent.filter(one => isData(one.bytes))).toHaveLength(before + 1)
      }),
    )
  })
})

test('keep-alives have the content of the last packet, and the sequence goes on by one (E1.31-2018 6.6.2)', () => {
  const wire = record(open({ routes: [sacn(1)] }))
  for (let n = 0; n < 400; n++) wire.frame([1], levels(1, 5), n * 25)
  const packets = wire.sent.filter(one => one.route === 0).map(one => data(one.bytes))
  expect(packets.map(one => one.sequence)).toEqual(packets.map((_, i) => i))
  for (const { slots } of packets) expect(slots).toEqual(levels(1, 5))
})

test('every-frame mode sends each frame of each universe, sequence wrapping at 256 and at 255 to 1', () => {
  const wire = record(open({ routes: [sacn(1, { mode: 'every' }), artnet(2)] }))
  for (let n = 0; n < 600; n++) wire.frame([1, 2], levels(2, 5), n * 25)
  const e131 = wire.sent.filter(one => one.route === 0).map(one => data(one.bytes).sequence)
  const art = wire.sent.filter(one => one.route === 1).map(one => decodeArtDmx(one.bytes)!.sequence)
  expect(e131).toEqual(Array.from({ length: 600 }, (_, n) => n & 255))
  expect(art).toEqual(Array.from({ length: 600 }, (_, n) => (n % 255) + 1))
})

test('each route finds the bytes of its own universe, whatever their order, and one universe may leave twice', () => {
  const wire = record(open({ routes: [sacn(9), { ...artnet(3), universe: 9 }, artnet(4)] }))
  const bytes = levels(3, 8)
  wire.frame([4, 7, 9], bytes, 0)
  wire.frame([9, 4], bytes, 25)
  const slots = (route: number) =>
    wire.sent
      .filter(one => one.route === route)
      .map(one => (decodeArtDmx(one.bytes) ?? data(one.bytes)).slots)
  expect(slots(0)).toEqual([bytes.slice(1024, 1536), bytes.slice(0, 512)])
  expect(slots(1)).toEqual(slots(0))
  expect(slots(2)).toEqual([bytes.slice(0, 512), bytes.slice(512, 1024)])
})

test('an output without routes, and a frame without bytes for its universes, send nothing', () => {
  const none = record(open({}))
  none.frame([1], levels(1, 1), 0)
  const short = record(open({ routes: [sacn(1), artnet(2)], sync: 5 }))
  short.frame([1, 2], new Uint8Array(100), 0)
  expect([...none.sent, ...short.sent]).toEqual([])
})

describe('multicast', () => {
  test('goes to the group of each universe, sync to the group of its address (6.3.3.1), discovery to 64214', () => {
    const routes = [sacn(1, { host: 'multicast' }), sacn(1000, { host: 'multicast' })]
    const wire = record(open({ sync: 300, routes }))
    wire.frame([1, 1000], levels(2, 1), 0)
    expect(wire.sent.map(one => [one.to.host, one.to.port, decodeE131(one.bytes)?.kind])).toEqual([
      ['239.255.0.1', 5568, 'data'],
      ['239.255.3.232', 5568, 'data'],
      ['239.255.1.44', 5568, 'sync'],
      ['239.255.250.214', 5568, 'discovery'],
    ])
    expect(wire.sent.every(one => one.to.multicast)).toBe(true)
    const listed = decodeE131(wire.sent[3]!.bytes)
    // From memory of E1.31-2018 8.5: sync addresses are listed too.
    expect(listed?.kind === 'discovery' && listed.universes).toEqual([1, 300, 1000])
  })

  test('only touches addresses that the output names', () => {
    const routes = [
      sacn(1),
      sacn(2, { host: '127.0.0.9', port: 9999 }),
      artnet(3, { host: '127.0.0.7', port: 777 }),
    ]
    const wire = record(open({ sync: 4, routes }))
    for (let n = 0; n < 1000; n++) wire.frame([1, 2, 3], levels(3, n), n * 25)
    wire.end()
    const touched = new Set(wire.sent.map(one => `${one.to.host}:${one.to.port}`))
    expect([...touched].sort()).toEqual(['127.0.0.1:5568', '127.0.0.7:777', '127.0.0.9:9999'])
  })
})

describe('sync', () => {
  test('follows the data of its frame, once a receiver, and is left out when nothing was sent', () => {
    const routes = [artnet(1), artnet(2), artnet(3, { host: '127.0.0.2', mode: 'changes' }), sacn(4), sacn(5)]
    const wire = record(open({ sync: 77, routes }))
    for (let n = 0; n < 6; n++) wire.frame([1, 2, 3, 4, 5], levels(5, 1), n * 25)
    const kinds = (at: number) =>
      wire.sent
        .filter(one => one.at === at)
        .map(one => {
          if (one.bytes.length === 14) return `artsync ${one.to.host}`
          return decodeE131(one.bytes)?.kind ?? 'artdmx'
        })
    expect(kinds(25)).toEqual([
      'artdmx',
      'artdmx',
      'artdmx',
      'artsync 127.0.0.1',
      'artsync 127.0.0.2',
      'data',
      'data',
      'sync',
    ])
    expect(kinds(125)).toEqual(['artdmx', 'artdmx', 'artsync 127.0.0.1'])
  })

  test('has its own sequence, its address in every data packet, and never comes without an address', () => {
    const wire = record(open({ sync: 77, routes: [sacn(1, { mode: 'every' })] }))
    for (let n = 0; n < 3; n++) wire.frame([1], levels(1, n), n * 25)
    const packets = wire.sent.map(one => decodeE131(one.bytes)!)
    expect(packets.flatMap(one => (one.kind === 'sync' ? [[one.sequence, one.sync]] : []))).toEqual([
      [0, 77],
      [1, 77],
      [2, 77],
    ])
    expect(packets.flatMap(one => (one.kind === 'data' ? [one.sync] : []))).toEqual([77, 77, 77])
    const plain = record(open({ routes: [sacn(1)] }))
    plain.frame([1], levels(1, 1), 0)
    expect(plain.sent.map(one => decodeE131(one.bytes)?.kind)).toEqual(['data', 'discovery'])
  })
})

test('universe discovery comes every 10 s (E1.31-2018 Appendix A) and shows a change at its next turn', () => {
  const wire = record(open({ routes: [sacn(1), sacn(2)] }))
  for (let n = 0; n < 1000; n++) wire.frame(n < 500 ? [1, 2] : [2], levels(2, 1), n * 25)
  const lists = wire.sent.flatMap(one => {
    const packet = decodeE131(one.bytes)
    return packet?.kind === 'discovery' ? [[one.at, packet.universes]] : []
  })
  expect(lists).toEqual([
    [0, [1, 2]],
    [10_000, [1, 2]],
    [20_000, [2]],
  ])
})

describe('the end of a stream', () => {
  test('is three packets with the option bit (E1.31-2018 6.2.6), sequence going on', () => {
    const wire = record(open({ routes: [sacn(1, { preview: true })] }))
    wire.frame([1], levels(1, 1), 0)
    wire.end()
    const packets = wire.sent.filter(one => one.route === 0).map(one => data(one.bytes))
    expect(packets.map(one => [one.sequence, one.terminated, one.preview])).toEqual([
      [0, false, true],
      [1, true, true],
      [2, true, true],
      [3, true, true],
    ])
  })

  test('is still the end when the system holds the packets back until the stream has begun again', () => {
    const streams = open({ routes: [sacn(1)] })
    const held: Uint8Array[] = []
    const emit = (bytes: Uint8Array) => void held.push(bytes)
    streams.frame([1], levels(1, 1), 0, () => {})
    streams.frame([], levels(0, 1), 25, emit)
    streams.frame([1], levels(1, 1), 50, () => {})
    expect(held.map(bytes => [data(bytes).terminated, data(bytes).sequence])).toEqual([
      [true, 1],
      [true, 2],
      [true, 3],
    ])
  })

  test('comes when the universe leaves the patch, once; and the stream begins again when it comes back', () => {
    const wire = record(open({ routes: [sacn(1)] }))
    wire.frame([1], levels(1, 1), 0)
    wire.frame([], levels(0, 1), 25)
    wire.frame([], levels(0, 1), 50)
    wire.frame([1], levels(1, 1), 75)
    wire.end()
    wire.end()
    const packets = wire.sent.filter(one => one.route === 0).map(one => data(one.bytes))
    expect(packets.map(one => one.terminated)).toEqual([false, true, true, true, false, true, true, true])
    expect(packets.map(one => one.sequence)).toEqual([0, 1, 2, 3, 4, 5, 6, 7])
  })

  test('is not sent for a stream that never began, nor for one that the next output goes on with', () => {
    const input = { routes: [sacn(1), sacn(2), sacn(3)] }
    const wire = record(open(input))
    wire.frame([1, 2], levels(2, 1), 0)
    wire.end([keyOf(output(input).routes[0]!)])
    expect(
      wire.sent
        .filter(one => decodeE131(one.bytes)?.kind === 'data' && data(one.bytes).terminated)
        .map(one => one.route),
    ).toEqual([1, 1, 1])
  })
})

describe('after a restart', () => {
  test('a receiver that applies E1.31-2018 6.7.2 takes the first packet, up to 44 packets after the last report', () => {
    fc.assert(
      fc.property(fc.nat(255), fc.nat(44), (reported, unreported) => {
        const stream = open(
          { sync: 5, routes: [sacn(1)] },
          { 'sacn|127.0.0.1|5568|1': reported, 'sacn-sync|127.0.0.1|5568|5': reported },
        )
        const wire = record(stream)
        wire.frame([1], levels(1, 1), 0)
        const last = (reported + unreported) & 255
        for (const { bytes } of wire.sent) {
          const packet = decodeE131(bytes)!
          if (packet.kind !== 'discovery') expect(isOutOfOrder(packet.sequence, last)).toBe(false)
        }
      }),
    )
  })

  test('Art-Net jumps ahead too and never says 0', () => {
    for (let last = 1; last <= 255; last++) {
      const wire = record(open({ routes: [artnet(1)] }, { 'artnet|127.0.0.1|6454|1': last }))
      wire.frame([1], levels(1, 1), 0)
      const { sequence } = decodeArtDmx(wire.sent[0]!.bytes)!
      expect(sequence).toBeGreaterThanOrEqual(1)
      expect((sequence - last + 255) % 255).toBe(64)
    }
  })

  test('goes on from what the stream before reported, under keys that tell protocol, place, number and interface', () => {
    const input = { sync: 5, routes: [sacn(1, { mode: 'every' }), { ...artnet(2), via: '127.0.0.1' }] }
    const stream = open(input)
    const wire = record(stream)
    for (let n = 0; n < 300; n++) wire.frame([1, 2], levels(2, n), n * 25)
    const told: Record<string, number> = {}
    stream.sequences(told)
    expect(told).toEqual({
      'sacn|127.0.0.1|5568|1': 43,
      'sacn-sync|127.0.0.1|5568|5': 43,
      'artnet|127.0.0.1|6454|2|127.0.0.1': 45,
    })
  })
})

test('two routes to one place under one number are refused, naming the second', () => {
  const twice = { routes: [sacn(1), { ...sacn(1), universe: 2 }] }
  expect(() => open(twice)).toThrow(
    expect.objectContaining({ code: 'output.duplicate', where: 'output.routes[1]' }),
  )
  // The same group by two interfaces is a way to be safe, not a mistake.
  expect(() =>
    open({
      routes: [
        { ...sacn(1), via: '127.0.0.1' },
        { ...sacn(1), via: '127.0.0.2' },
      ],
    }),
  ).not.toThrow()
})

test('a control packet belongs to no route', () => {
  const wire = record(open({ sync: 1, routes: [artnet(1), sacn(2)] }))
  wire.frame([1, 2], levels(2, 1), 0)
  expect(wire.sent.map(one => one.route)).toEqual([0, CONTROL, 1, CONTROL, CONTROL])
})
