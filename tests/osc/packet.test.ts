// OSC packets against an independent package, against octets of the specification, and against strangers.

import { CodedError, type ErrorCode } from '@glowchart/shared/errors.ts'
import {
  decodeOsc,
  messagesOf,
  type OscArgument,
  type OscMessage,
  type OscPacket,
} from '@glowchart/shared/osc/packet.ts'
import { matchesPattern } from '@glowchart/shared/osc/pattern.ts'
import fc from 'fast-check'
import { fromBuffer, type OscArgInput, type OscPacketInput, toBuffer } from 'osc-min'
import { describe, expect, it } from 'vitest'

const octets = (packet: OscPacketInput): Uint8Array => {
  const { buffer, byteOffset, byteLength } = toBuffer(packet)
  return new Uint8Array(buffer, byteOffset, byteLength)
}

const names = {
  i: 'integer',
  f: 'float',
  d: 'double',
  h: 'bigint',
  s: 'string',
  b: 'blob',
  T: 'true',
  F: 'false',
  N: 'null',
  I: 'bang',
} as const

/** What we read, as osc-min writes it. */
const asInput = (packet: OscPacket): OscPacketInput =>
  packet.kind === 'message'
    ? {
        address: packet.address,
        args: packet.args.map((arg): OscArgInput => ({ ...arg, type: names[arg.type] }) as OscArgInput),
      }
    : {
        timetag: [packet.at.seconds, packet.at.fraction],
        elements: packet.packets.map(asInput),
      }

const argument: fc.Arbitrary<OscArgInput> = fc.oneof(
  fc.integer({ min: -(2 ** 31), max: 2 ** 31 - 1 }).map(value => ({ type: 'integer' as const, value })),
  fc.float({ noNaN: true }).map(value => ({ type: 'float' as const, value })),
  fc.double({ noNaN: true }).map(value => ({ type: 'double' as const, value })),
  fc.bigInt({ min: -(2n ** 63n), max: 2n ** 63n - 1n }).map(value => ({ type: 'bigint' as const, value })),
  fc.string({ unit: 'grapheme-ascii', maxLength: 20 }).map(value => ({ type: 'string' as const, value })),
  fc.uint8Array({ maxLength: 9 }).map(value => ({ type: 'blob' as const, value })),
  fc.constantFrom(
    { type: 'true' as const },
    { type: 'false' as const },
    { type: 'null' as const },
    { type: 'bang' as const },
  ),
)
const message: fc.Arbitrary<OscPacketInput> = fc.record({
  address: fc.stringMatching(/^\/[a-z]{1,9}(\/[a-z0-9]{1,5})?$/),
  args: fc.array(argument, { maxLength: 6 }),
})
const timetag: fc.Arbitrary<[number, number]> = fc.tuple(
  fc.integer({ min: 0, max: 2 ** 32 - 1 }),
  fc.integer({ min: 0, max: 2 ** 32 - 1 }),
)
const bundle = fc.record({
  timetag,
  elements: fc.array(
    fc.oneof(message, fc.record({ timetag, elements: fc.array(message, { maxLength: 2 }) })),
    {
      maxLength: 4,
    },
  ),
})

describe('against osc-min 2.1.2', () => {
  it('reads what it writes, and what we have read it writes again octet by octet', () => {
    fc.assert(
      fc.property(fc.oneof(message, bundle), packet => {
        const bytes = octets(packet)
        expect(octets(asInput(decodeOsc(bytes, 'test')))).toEqual(bytes)
      }),
      { numRuns: 500 },
    )
  })

  it('reads nothing that it does not', () => {
    fc.assert(
      fc.property(message, fc.nat(), fc.integer({ min: 0, max: 255 }), (packet, where, value) => {
        const bytes = octets(packet)
        bytes[where % bytes.length] = value
        let read: OscPacket
        try {
          read = decodeOsc(bytes, 'test')
        } catch (error) {
          expect(error).toBeInstanceOf(CodedError)
          return
        }
        const other = fromBuffer(bytes)
        expect(other.oscType).toBe('message')
        expect(other).toHaveProperty('address', (read as OscMessage).address)
      }),
      { numRuns: 500 },
    )
  })
})

/** The second example of the specification (Open Sound Control 1.0, "OSC Message Examples"), octet by octet. */
const EXAMPLE =
  '2f666f6f000000002c696973666600 00000003e8ffffffff68656c6c6f0000003f9df3b640b5b22d'.replaceAll(' ', '')

it('reads the example of the specification: /foo 1000 -1 "hello" 1.234 5.678', () => {
  const packet = decodeOsc(Uint8Array.from(Buffer.from(EXAMPLE, 'hex')), 'test')
  expect(packet).toMatchObject({ kind: 'message', address: '/foo' })
  const values = (messagesOf(packet)[0]!.args as (OscArgument & { value: unknown })[]).map(arg => arg.value)
  expect(values.slice(0, 3)).toEqual([1000, -1, 'hello'])
  expect(values[3]).toBeCloseTo(1.234, 6)
  expect(values[4]).toBeCloseTo(5.678, 6)
})

it('takes a message without type tags, and a bundle that is to be done at once', () => {
  expect(decodeOsc(Buffer.from('/go\0'), 'test')).toEqual({ kind: 'message', address: '/go', args: [] })
  const at = Buffer.from('2362756e646c65000000000000000001', 'hex')
  expect(decodeOsc(at, 'test')).toEqual({ kind: 'bundle', at: { seconds: 0, fraction: 1 }, packets: [] })
})

describe('says with a code what it cannot read', () => {
  const code = (bytes: Uint8Array): ErrorCode | null => {
    try {
      decodeOsc(bytes, '127.0.0.1:9')
      return null
    } catch (error) {
      expect((error as CodedError).where).toBe('127.0.0.1:9')
      return (error as CodedError).code
    }
  }
  const nested = (deep: number): OscPacketInput =>
    deep === 0 ? { address: '/a' } : { timetag: [0, 0], elements: [nested(deep - 1)] }

  it.each<[string, Uint8Array, ErrorCode]>([
    ['nothing', new Uint8Array(0), 'osc.damaged'],
    ['a size that is no multiple of 4', Buffer.from('/a\0\0\0'), 'osc.damaged'],
    ['a text without its end', Buffer.from('/abc'), 'osc.damaged'],
    ['an address without a slash', Buffer.from('abc\0'), 'osc.damaged'],
    ['a number that is cut off', Buffer.from('/a\0\0,i\0\0'), 'osc.damaged'],
    ['octets left over', Buffer.from('/a\0\0,\0\0\0abcd'), 'osc.damaged'],
    ['a blob longer than the packet', Buffer.from('/a\0\0,b\0\0\x7f\0\0\0'), 'osc.damaged'],
    [
      'a bundle with an element longer than it',
      Buffer.from(`${'#bundle\0'}${'\0'.repeat(8)}\x7f\0\0\0`),
      'osc.damaged',
    ],
    ['a type that nobody told the length of', Buffer.from('/a\0\0,x\0\0'), 'osc.type'],
    ['more octets than a hand sends', new Uint8Array(8196), 'osc.tooLarge'],
    ['more arguments', Buffer.from(`/a\0\0,${'T'.repeat(66)}\0`), 'osc.tooLarge'],
    ['bundles in bundles in bundles', octets(nested(5)), 'osc.tooLarge'],
    [
      'hundreds of messages',
      octets({ timetag: [0, 0], elements: Array(200).fill({ address: '/a' }) }),
      'osc.tooLarge',
    ],
  ])('%s', (_, bytes, wanted) => expect(code(bytes)).toBe(wanted))
})

describe('address patterns (OSC 1.0, message dispatching)', () => {
  it.each([
    ['/part/tubes/level', '/part/tubes/level', true],
    ['/part/*/level', '/part/tubes/level', true],
    ['/part/*', '/part/tubes/level', false],
    ['/part/t?bes/level', '/part/tubes/level', true],
    ['/part/[a-t]ubes/level', '/part/tubes/level', true],
    ['/part/[!a-t]ubes/level', '/part/tubes/level', false],
    ['/part/[st-]ubes/level', '/part/-ubes/level', true],
    ['/part/{bulbs,tubes}/level', '/part/tubes/level', true],
    ['/part/{bulbs,tub}*/l*l', '/part/tubes/level', true],
    ['/part/{bulbs/level', '/part/bulbs/level', false],
    ['/part', '/parts', false],
  ])('%s and %s', (pattern, address, wanted) => expect(matchesPattern(pattern, address)).toBe(wanted))

  it('takes no time that grows without end for a stranger’s stars', () => {
    const before = performance.now()
    matchesPattern(`/${'*a'.repeat(120)}b`, `/${'a'.repeat(250)}`)
    expect(performance.now() - before).toBeLessThan(500)
  })
})
