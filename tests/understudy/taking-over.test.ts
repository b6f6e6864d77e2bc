// What goes out on the wire when a laptop takes over: the priority above, and the word that ends a node's merge.

import { artCancelMerge } from '@glowchart/server/output/artnet.ts'
import { decodeE131 } from '@glowchart/server/output/e131.ts'
import { openStreams } from '@glowchart/server/output/streams.ts'
import { outputSchema } from '@glowchart/shared/show/output.ts'
import { describe, expect, it } from 'vitest'
import { artnetPort, sacnPort } from '../drills/merging-node.ts'

const artnet = { protocol: 'artnet', host: '127.0.0.1', portAddress: 1 } as const
const sacn = { protocol: 'sacn', host: '127.0.0.1', wireUniverse: 1, mode: 'every' } as const
const cid = (n: number): Uint8Array => new Uint8Array(16).fill(n)

/** A laptop's packets of one frame at one level. */
function laptop(n: number, to: typeof artnet | (typeof sacn & { priority?: number }), lift = 0) {
  const streams = openStreams(outputSchema.parse({ routes: [{ universe: 1, to }] }), { cid: cid(n), lift })
  return {
    ...streams,
    frame(level: number): Uint8Array[] {
      const packets: Uint8Array[] = []
      streams.frame([1], new Uint8Array(512).fill(level), 0, bytes => packets.push(Uint8Array.from(bytes)))
      return packets
    },
  }
}

describe('ArtAddress', () => {
  it('has the octets of Art-Net 4: no switch changed, no name, no priority, AcCancelMerge', () => {
    const bytes = artCancelMerge(1)
    expect(bytes).toHaveLength(107)
    expect(Buffer.from(bytes.subarray(0, 14)).toString('latin1')).toBe('Art-Net\0\x00\x60\x00\x0e\x7f\x01')
    expect(bytes.subarray(14, 96).every(octet => octet === 0)).toBe(true)
    expect([...bytes.subarray(96)]).toEqual([127, 127, 127, 127, 127, 127, 127, 127, 127, 255, 1])
  })
})

describe('a node that merges two controllers', () => {
  it('shows the dead one’s last frame in the mix for 10 s, unless its merge is cancelled', () => {
    const port = artnetPort(1)
    for (const packet of laptop(1, artnet).frame(200)) port.take(packet, '2.0.0.1', 0)
    const [mixed] = laptop(2, artnet)
      .frame(50)
      .map(packet => port.take(packet, '2.0.0.2', 400))
    expect(mixed![0]).toBe(200)
    const later = laptop(2, artnet)
      .frame(50)
      .map(packet => port.take(packet, '2.0.0.2', 10_500))
    expect(later[0]![0]).toBe(50)
  })

  it('is right from the second frame on of who takes over, though it takes the word only while it merges', () => {
    const port = artnetPort(1)
    for (const packet of laptop(1, artnet).frame(200)) port.take(packet, '2.0.0.1', 0)
    const taking = laptop(2, artnet)
    taking.cancelMerge()
    const shown = [0, 1, 2].map(
      frame =>
        taking
          .frame(50)
          .map(packet => port.take(packet, '2.0.0.2', 400 + 25 * frame))
          .at(-1)![0],
    )
    expect(shown).toEqual([200, 50, 50])
  })
})

describe('a receiver of sACN', () => {
  it('takes the higher priority at its first packet, and falls back without a gap when that ends', () => {
    const port = sacnPort(1)
    const [first, second] = [laptop(1, sacn), laptop(2, sacn, 1)]
    const show = (packets: Uint8Array[], at: number) =>
      packets.map(packet => port.take(packet, at)).findLast(levels => levels !== null)![0]
    expect(show(first.frame(200), 0)).toBe(200)
    const raised = second.frame(50)
    expect(decodeE131(raised[0]!)).toMatchObject({ kind: 'data', priority: 101 })
    expect(show(raised, 10)).toBe(50)
    expect(show(first.frame(200), 20)).toBe(50)
    const ends: Uint8Array[] = []
    second.end(new Set(), bytes => ends.push(Uint8Array.from(bytes)))
    expect(show(ends, 30)).toBe(200)
  })

  it('is never told a priority above 200 (E1.31-2018 6.2.3)', () => {
    const [packet] = laptop(2, { ...sacn, priority: 200 }, 1).frame(1)
    expect(decodeE131(packet!)).toMatchObject({ priority: 200 })
  })
})
