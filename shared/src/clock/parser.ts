// MIDI bytes to messages, one byte a step: survives anything that comes down a cable.

/** Channels are 0…15, as on the wire. `at` is the time of the byte that completed the message. */
export type MidiMessage = { readonly at: number } & (
  | { readonly type: 'clock' | 'start' | 'continue' | 'stop' | 'activeSensing' | 'reset' }
  /** In sixteenths from the song's start, 0…16383. */
  | { readonly type: 'songPosition'; readonly sixteenths: number }
  | { readonly type: 'songSelect'; readonly song: number }
  /** One piece of MIDI time code: 0nnn dddd. */
  | { readonly type: 'quarterFrame'; readonly data: number }
  | { readonly type: 'programChange'; readonly channel: number; readonly program: number }
  | {
      readonly type: 'noteOn' | 'noteOff'
      readonly channel: number
      readonly note: number
      readonly velocity: number
    }
  | {
      readonly type: 'controlChange'
      readonly channel: number
      readonly control: number
      readonly value: number
    }
  /** The bytes between F0 and F7. */
  | { readonly type: 'sysEx'; readonly bytes: readonly number[] }
)

/** System exclusive messages with more bytes than this between F0 and F7 are passed over whole. */
export const SYSEX_LIMIT = 128

/** What a half-heard message has left behind. Plain data of bounded size. */
export interface MidiParser {
  /** The status that data bytes belong to; 0 where they belong to none. Channel statuses stay (running status). */
  readonly status: number
  /** First data byte of a message of two; -1 while there is none. */
  readonly first: number
  /** Inside a system exclusive message: its bytes so far; null outside, and once it grew too long. */
  readonly sysEx: readonly number[] | null
}

export const midiParser: MidiParser = { status: 0, first: -1, sysEx: null }

export interface Parsed {
  readonly parser: MidiParser
  readonly message: MidiMessage | null
}

/**
 * Takes one byte. Real-time bytes (F8…FF) change nothing of what they fall into; a status byte ends a message that
 * was cut short without a word, data bytes that belong to nothing and undefined statuses are passed over, and so is
 * what is no byte at all. MIDI 1.0 Detailed Specification, from memory; the same rules are in `tests/clock`.
 */
export function parseByte(parser: MidiParser, byte: number, at: number): Parsed {
  if (!Number.isInteger(byte) || byte < 0 || byte > 0xff) return { parser, message: null }
  if (byte >= 0xf8) return { parser, message: realTime(byte, at) }
  if (byte >= 0x80) return newStatus(parser, byte, at)
  return data(parser, byte, at)
}

function realTime(byte: number, at: number): MidiMessage | null {
  switch (byte) {
    case 0xf8:
      return { type: 'clock', at }
    case 0xfa:
      return { type: 'start', at }
    case 0xfb:
      return { type: 'continue', at }
    case 0xfc:
      return { type: 'stop', at }
    case 0xfe:
      return { type: 'activeSensing', at }
    case 0xff:
      return { type: 'reset', at }
    default:
      return null
  }
}

const START_OF_SYSEX = 0xf0
const END_OF_SYSEX = 0xf7

function newStatus(parser: MidiParser, byte: number, at: number): Parsed {
  if (byte === END_OF_SYSEX) {
    const message: MidiMessage | null = parser.sysEx ? { type: 'sysEx', bytes: parser.sysEx, at } : null
    return { parser: midiParser, message }
  }
  if (byte === START_OF_SYSEX) return { parser: { status: byte, first: -1, sysEx: [] }, message: null }
  return {
    parser: dataBytes(byte) === 0 ? midiParser : { status: byte, first: -1, sysEx: null },
    message: null,
  }
}

/** Data bytes that follow a status below F8, system exclusive aside; the undefined F4 and F5, and F6, have none. */
function dataBytes(status: number): 0 | 1 | 2 {
  if (status >= 0xf0) return status === 0xf2 ? 2 : status === 0xf1 || status === 0xf3 ? 1 : 0
  const kind = status & 0xf0
  return kind === 0xc0 || kind === 0xd0 ? 1 : 2
}

function data(parser: MidiParser, byte: number, at: number): Parsed {
  const { status, first, sysEx } = parser
  if (status === 0) return { parser, message: null }
  if (status === START_OF_SYSEX) {
    if (!sysEx) return { parser, message: null }
    const grown = sysEx.length < SYSEX_LIMIT ? [...sysEx, byte] : null
    return { parser: { status, first, sysEx: grown }, message: null }
  }
  if (first < 0 && dataBytes(status) === 2) return { parser: { status, first: byte, sysEx }, message: null }
  const after: MidiParser = status >= 0xf0 ? midiParser : first < 0 ? parser : { status, first: -1, sysEx }
  return { parser: after, message: complete(status, first < 0 ? byte : first, byte, at) }
}

/** A whole message. With one data byte, `first` and `last` are the same; kinds nobody here asks for give null. */
function complete(status: number, first: number, last: number, at: number): MidiMessage | null {
  const channel = status & 0x0f
  switch (status >= 0xf0 ? status : status & 0xf0) {
    case 0x80:
      return { type: 'noteOff', channel, note: first, velocity: last, at }
    case 0x90:
      return { type: last === 0 ? 'noteOff' : 'noteOn', channel, note: first, velocity: last, at }
    case 0xb0:
      return { type: 'controlChange', channel, control: first, value: last, at }
    case 0xc0:
      return { type: 'programChange', channel, program: first, at }
    case 0xf1:
      return { type: 'quarterFrame', data: first, at }
    case 0xf2:
      return { type: 'songPosition', sixteenths: first | (last << 7), at }
    case 0xf3:
      return { type: 'songSelect', song: first, at }
    default:
      return null
  }
}
