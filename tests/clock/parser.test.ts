// The MIDI parser against whatever may come down a cable.

import {
  type MidiMessage,
  type MidiParser,
  midiParser,
  parseByte,
  SYSEX_LIMIT,
} from '@glowchart/shared/clock/parser.ts'
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'

function parse(
  bytes: readonly number[],
  from: MidiParser = midiParser,
): { messages: MidiMessage[]; parser: MidiParser } {
  const messages: MidiMessage[] = []
  let parser = from
  for (const byte of bytes) {
    const step = parseByte(parser, byte, 7)
    parser = step.parser
    if (step.message) messages.push(step.message)
  }
  return { messages, parser }
}
const at = 7
const isRealTime = ({ type }: MidiMessage): boolean =>
  ['clock', 'start', 'continue', 'stop', 'activeSensing', 'reset'].includes(type)

describe('messages', () => {
  // Status bytes and lengths: MIDI 1.0 Detailed Specification (from memory); Song Position F2 00 02 = 256, least
  // significant byte first, was checked with the mido 1.2.10 package.
  it.each<[string, number[], MidiMessage[]]>([
    ['clock', [0xf8], [{ type: 'clock', at }]],
    [
      'start, continue, stop',
      [0xfa, 0xfb, 0xfc],
      [
        { type: 'start', at },
        { type: 'continue', at },
        { type: 'stop', at },
      ],
    ],
    [
      'active sensing and reset',
      [0xfe, 0xff],
      [
        { type: 'activeSensing', at },
        { type: 'reset', at },
      ],
    ],
    ['song position 256', [0xf2, 0x00, 0x02], [{ type: 'songPosition', sixteenths: 256, at }]],
    ['song position, its last', [0xf2, 0x7f, 0x7f], [{ type: 'songPosition', sixteenths: 16383, at }]],
    ['song select', [0xf3, 5], [{ type: 'songSelect', song: 5, at }]],
    ['quarter frame', [0xf1, 0x61], [{ type: 'quarterFrame', data: 0x61, at }]],
    ['program change', [0xc9, 12], [{ type: 'programChange', channel: 9, program: 12, at }]],
    ['note on', [0x93, 60, 100], [{ type: 'noteOn', channel: 3, note: 60, velocity: 100, at }]],
    ['note on of velocity 0', [0x93, 60, 0], [{ type: 'noteOff', channel: 3, note: 60, velocity: 0, at }]],
    ['note off', [0x80, 60, 64], [{ type: 'noteOff', channel: 0, note: 60, velocity: 64, at }]],
    ['control change', [0xb1, 7, 99], [{ type: 'controlChange', channel: 1, control: 7, value: 99, at }]],
    [
      'full frame of time code',
      [0xf0, 0x7f, 0x7f, 1, 1, 0x61, 0x1e, 0x23, 0x14, 0xf7],
      [{ type: 'sysEx', bytes: [0x7f, 0x7f, 1, 1, 0x61, 0x1e, 0x23, 0x14], at }],
    ],
  ])('reads %s', (_, bytes, messages) => {
    expect(parse(bytes).messages).toEqual(messages)
  })

  it('carries a running status over real-time bytes, and drops it at a system message', () => {
    const notes = parse([0x90, 60, 100, 0xf8, 62, 0xfe, 101, 0xf2, 1, 0, 64, 102]).messages
    expect(notes.filter(message => !isRealTime(message))).toEqual([
      { type: 'noteOn', channel: 0, note: 60, velocity: 100, at },
      { type: 'noteOn', channel: 0, note: 62, velocity: 101, at },
      { type: 'songPosition', sixteenths: 1, at },
    ])
  })

  it('keeps its count through kinds it passes over: aftertouch, pressure, pitch bend, tune request', () => {
    expect(parse([0xa0, 1, 2, 3, 4, 0xd0, 5, 6, 0xe0, 7, 8, 0xf6, 0xc0, 9]).messages).toEqual([
      { type: 'programChange', channel: 0, program: 9, at },
    ])
  })

  it('passes over undefined statuses, data that belongs to nothing, messages cut short, and what is no byte', () => {
    const bytes = [
      1,
      2,
      0xf4,
      3,
      0xf5,
      0xf9,
      0xfd,
      0xf7,
      0x90,
      60,
      0xf2,
      1,
      0xc0,
      -1,
      256,
      1.5,
      Number.NaN,
      4,
    ]
    expect(parse(bytes).messages).toEqual([{ type: 'programChange', channel: 0, program: 4, at }])
  })

  it('ends a cut system exclusive message at the next status, and passes over one that is too long', () => {
    const long = Array.from({ length: SYSEX_LIMIT + 1 }, () => 1)
    expect(parse([0xf0, 1, 2, 0xc0, 3]).messages).toEqual([
      { type: 'programChange', channel: 0, program: 3, at },
    ])
    expect(parse([0xf0, ...long, 0xf7, 0xc0, 3]).messages).toHaveLength(1)
    expect(parse([0xf0, ...long.slice(1), 0xf7]).messages).toEqual([
      { type: 'sysEx', bytes: long.slice(1), at },
    ])
  })
})

describe('any bytes', () => {
  const statuses = fc.constantFrom(
    0x80,
    0x90,
    0xb0,
    0xc0,
    0xd0,
    0xe0,
    0xf0,
    0xf1,
    0xf2,
    0xf3,
    0xf4,
    0xf6,
    0xf7,
  )
  const quiet = fc.array(fc.oneof(fc.integer({ min: 0, max: 127 }), statuses), { maxLength: 200 })
  const realTime = fc.integer({ min: 0xf8, max: 0xff })

  it('split anywhere, the state carried over as a copy, give the same messages', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 255 }), { maxLength: 300 }),
        fc.nat(300),
        (bytes, cut) => {
          const first = parse(bytes.slice(0, cut))
          const second = parse(bytes.slice(cut), structuredClone(first.parser))
          expect([...first.messages, ...second.messages]).toEqual(parse(bytes).messages)
        },
      ),
    )
  })

  it('with real-time bytes put in anywhere, give the same other messages', () => {
    fc.assert(
      fc.property(quiet, fc.array(fc.tuple(fc.nat(200), realTime), { maxLength: 40 }), (bytes, extra) => {
        const mixed = [...bytes]
        for (const [where, byte] of extra) mixed.splice(Math.min(where, mixed.length), 0, byte)
        const { messages, parser } = parse(mixed)
        expect(messages.filter(message => !isRealTime(message))).toEqual(parse(bytes).messages)
        expect(parser).toEqual(parse(bytes).parser)
        const heard = extra.filter(([, byte]) => byte !== 0xf9 && byte !== 0xfd).length
        expect(messages.filter(isRealTime)).toHaveLength(heard)
      }),
    )
  })

  it('never throw, never grow the state, and give whole messages of seven-bit data', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.integer({ min: -10, max: 300 }), fc.double()), { maxLength: 600 }),
        bytes => {
          const { messages, parser } = parse(bytes)
          expect(JSON.stringify(parser).length).toBeLessThan(100 + 4 * SYSEX_LIMIT)
          for (const message of messages) {
            for (const [key, value] of Object.entries(message)) {
              if (typeof value !== 'number' || key === 'at') continue
              expect(value).toBeGreaterThanOrEqual(0)
              expect(value).toBeLessThanOrEqual(key === 'sixteenths' ? 0x3fff : 0x7f)
            }
          }
        },
      ),
    )
  })
})
