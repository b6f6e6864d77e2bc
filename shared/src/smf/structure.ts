// The structure of a Standard MIDI File, walked byte by byte before the parser may see it: midi-file reads past the
// end of what it is given without a word, and makes an object of every event however many there are.

import { CodedError } from '../errors.ts'
import { chunk, joined } from './chunks.ts'

const MAX_BYTES = 16 * 1024 * 1024
const MAX_TRACKS = 1000
const MAX_EVENTS = 1_000_000

/**
 * Walks the whole file and hands back its header and tracks: chunks of other kinds are left out (RP-001: a reader
 * skips them), and what stands in a track after its end.
 * @throws CodedError `smf.notMidi`, `smf.tooLarge`, `smf.tooMany`, `smf.format`, `smf.division`, `smf.meter`,
 * `smf.tempo`, `smf.damaged` (malformed or cut short, with the byte)
 */
export function soundFile(bytes: Uint8Array, where: string): Uint8Array {
  if (bytes.length > MAX_BYTES) {
    throw new CodedError('smf.tooLarge', `the file has ${bytes.length} bytes; 16 MiB is the most`, where)
  }
  if (String.fromCharCode(...bytes.subarray(0, 4)) !== 'MThd') {
    throw new CodedError('smf.notMidi', 'the file does not begin with "MThd"', where)
  }
  const reader = new Reader(bytes, where)
  const { tracks, header } = readHeader(reader)
  const chunks = [header]
  let events = 0
  while (chunks.length <= tracks) {
    const at = reader.at
    const kind = String.fromCharCode(...reader.take(4))
    const body = reader.take(reader.number(4))
    if (kind !== 'MTrk') continue
    const track = new Reader(body, where, at + 8)
    events = walkTrack(track, events)
    chunks.push(chunk('MTrk', body.subarray(0, track.at)))
  }
  return joined(chunks)
}

function readHeader(reader: Reader): { tracks: number; header: Uint8Array } {
  reader.take(4)
  const body = reader.take(Math.max(6, reader.number(4))).subarray(0, 6)
  const header = new Reader(body, reader.where, 8)
  const format = header.number(2)
  const tracks = header.number(2)
  const division = header.number(2)
  if (format > 1) {
    const says = format === 2 ? 'the file is of format 2 (patterns apart)' : `there is no format ${format}`
    throw new CodedError('smf.format', `${says}; formats 0 and 1 are read`, reader.where)
  }
  if (tracks === 0) reader.refuse('the file has no tracks')
  if (tracks > MAX_TRACKS) {
    throw new CodedError(
      'smf.tooMany',
      `the file has ${tracks} tracks; ${MAX_TRACKS} is the most`,
      reader.where,
    )
  }
  const frames = 0x100 - (division >> 8)
  if ((division & 0xff) === 0 && division >> 15 === 1) refuseDivision(reader, 'it has no ticks in a frame')
  if (division === 0) refuseDivision(reader, 'it has no ticks in a quarter note')
  if (division >> 15 === 1 && ![24, 25, 29, 30].includes(frames)) {
    refuseDivision(reader, `it counts ${frames} frames a second; 24, 25, 29 (29.97) and 30 are known`)
  }
  return { tracks, header: chunk('MThd', body) }
}

function refuseDivision(reader: Reader, says: string): never {
  throw new CodedError('smf.division', `the file's division of time cannot be used: ${says}`, reader.where)
}

/** Walks the events up to the end of the track or of its bytes; `events` counts on over the tracks. */
function walkTrack(reader: Reader, events: number): number {
  let running = 0
  for (let count = events; ; count++) {
    if (reader.atEnd()) return count
    if (count >= MAX_EVENTS) {
      throw new CodedError('smf.tooMany', `the file has more than ${MAX_EVENTS} events`, reader.where)
    }
    reader.variable()
    const status = reader.peek()
    if (status < 0x80 && running === 0) reader.refuse('a data byte stands where an event should begin')
    if (status >= 0x80) reader.number(1)
    if (status === 0xff) {
      if (walkMeta(reader)) return count + 1
    } else if (status === 0xf0 || status === 0xf7) {
      reader.take(reader.variable())
    } else if (status > 0xf0) {
      reader.refuse(`the byte ${status} cannot begin an event in a file`)
    } else {
      if (status >= 0x80) running = status
      walkData(reader, running)
    }
  }
}

function walkData(reader: Reader, status: number): void {
  const one = (status & 0xe0) === 0xc0
  for (const byte of reader.take(one ? 1 : 2)) {
    if (byte >= 0x80) reader.refuse('a status byte stands where a data byte should be')
  }
}

/** Lengths that RP-001 fixes, by kind of meta event. */
const fixed: Record<number, number> = { 0: 2, 32: 1, 33: 1, 47: 0, 81: 3, 84: 5, 88: 4, 89: 2 }

/** True at the end of the track. */
function walkMeta(reader: Reader): boolean {
  const kind = reader.number(1)
  const body = reader.take(reader.variable())
  const due = fixed[kind]
  if (due !== undefined && body.length !== due) {
    reader.refuse(`a meta event ${kind} has ${body.length} bytes in place of ${due}`)
  }
  if (kind === 0x51 && body.every(byte => byte === 0)) {
    throw new CodedError(
      'smf.tempo',
      'a tempo of 0 µs a quarter note',
      `${reader.where}: byte ${reader.place()}`,
    )
  }
  if (kind === 0x58 && (body[0] === 0 || body[1]! > 15)) {
    const says = `a time signature of ${body[0]} over 2 to the power of ${body[1]}`
    throw new CodedError('smf.meter', says, `${reader.where}: byte ${reader.place()}`)
  }
  return kind === 0x2f
}

/** Reads bytes and refuses to go past their end. */
class Reader {
  at = 0
  readonly bytes: Uint8Array
  readonly where: string
  /** Where the bytes begin in the file. */
  readonly offset: number

  constructor(bytes: Uint8Array, where: string, offset = 0) {
    this.bytes = bytes
    this.where = where
    this.offset = offset
  }

  place = (): number => this.offset + this.at

  atEnd = (): boolean => this.at === this.bytes.length

  take(length: number): Uint8Array {
    if (this.at + length > this.bytes.length)
      this.refuse(`${length} bytes should follow, the rest is missing`)
    this.at += length
    return this.bytes.subarray(this.at - length, this.at)
  }

  peek(): number {
    return this.bytes[this.at] ?? this.refuse('an event is missing after its time')
  }

  /** A big-endian number of 1…4 bytes. */
  number(length: number): number {
    return this.take(length).reduce((sum, byte) => sum * 256 + byte, 0)
  }

  /** A variable-length quantity: seven bits a byte, at most four bytes (RP-001). */
  variable(): number {
    let value = 0
    for (let i = 0; i < 4; i++) {
      const byte = this.number(1)
      value = value * 128 + (byte & 0x7f)
      if (byte < 0x80) return value
    }
    return this.refuse('a variable-length quantity is longer than four bytes')
  }

  refuse(says: string): never {
    throw new CodedError('smf.damaged', says, `${this.where}: byte ${this.place()}`)
  }
}
