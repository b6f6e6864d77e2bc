// Open Sound Control 1.0 packets, read: messages, and bundles with their time tag. Bytes from a stranger: every limit here.

import { CodedError } from '../errors.ts'

/** Larger packets than these are no press of a hand, octets. */
export const MOST_OCTETS = 8192
const MOST_ARGUMENTS = 64
const MOST_ADDRESS = 255
/** Bundles in bundles. */
const MOST_DEEP = 4
/** Messages in one packet. */
const MOST_MESSAGES = 128

/** The types of OSC 1.0 (i f s b) and those of its list of further ones that carry a value or a truth (h d T F N I). */
export type OscArgument =
  | { readonly type: 'i' | 'f' | 'd'; readonly value: number }
  | { readonly type: 'h'; readonly value: bigint }
  | { readonly type: 's'; readonly value: string }
  | { readonly type: 'b'; readonly value: Uint8Array }
  | { readonly type: 'T' | 'F' | 'N' | 'I' }

export interface OscMessage {
  readonly kind: 'message'
  /** An address pattern: it begins with a slash. */
  readonly address: string
  readonly args: readonly OscArgument[]
}

export interface OscBundle {
  readonly kind: 'bundle'
  /** NTP time: seconds since 1900 and 2^-32 parts of one; seconds 0, fraction 1 means at once (OSC 1.0, time tags). */
  readonly at: { readonly seconds: number; readonly fraction: number }
  readonly packets: readonly OscPacket[]
}

export type OscPacket = OscMessage | OscBundle

/**
 * Reads a packet. The bytes may be written to afterwards.
 * @param from where it came from, for errors
 * @throws CodedError `osc.tooLarge`, `osc.damaged`, `osc.type`
 */
export function decodeOsc(bytes: Uint8Array, from: string): OscPacket {
  if (bytes.length > MOST_OCTETS)
    throw new CodedError('osc.tooLarge', `a packet of ${bytes.length} octets`, from)
  return readPacket(new Reader(bytes, from, { left: MOST_MESSAGES }), 0)
}

/** The messages of a packet in order, those of its bundles too. */
export const messagesOf = (packet: OscPacket): readonly OscMessage[] =>
  packet.kind === 'message' ? [packet] : packet.packets.flatMap(messagesOf)

class Reader {
  readonly #bytes: Uint8Array
  readonly #view: DataView
  readonly from: string
  /** Shared by all readers of one packet. */
  readonly messages: { left: number }
  at = 0

  constructor(bytes: Uint8Array, from: string, messages: { left: number }) {
    this.#bytes = bytes
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length)
    this.from = from
    this.messages = messages
  }

  get left(): number {
    return this.#bytes.length - this.at
  }

  damaged(says: string): CodedError {
    return new CodedError('osc.damaged', `octet ${this.at}: ${says}`, this.from)
  }

  /** The place of `size` octets, which are passed over. */
  take(size: number): number {
    if (size > this.left) throw this.damaged(`${size} octets are wanted, ${this.left} are left`)
    const here = this.at
    this.at += size
    return here
  }

  uint(): number {
    return this.#view.getUint32(this.take(4))
  }

  int(): number {
    return this.#view.getInt32(this.take(4))
  }

  float(): number {
    return this.#view.getFloat32(this.take(4))
  }

  double(): number {
    return this.#view.getFloat64(this.take(8))
  }

  long(): bigint {
    return this.#view.getBigInt64(this.take(8))
  }

  /** Text of ASCII characters (others are read as �), a null, and nulls up to a multiple of 4 octets (OSC 1.0). */
  text(): string {
    const end = this.#bytes.indexOf(0, this.at)
    if (end < 0) throw this.damaged('a text without its end')
    const begin = this.#padded(end - this.at, 1)
    const octets = this.#bytes.subarray(begin, end)
    return Array.from(octets, octet => (octet < 0x80 ? String.fromCharCode(octet) : '\ufffd')).join('')
  }

  /** A count, so many octets, and nulls up to a multiple of 4. */
  blob(): Uint8Array {
    const size = this.int()
    if (size < 0) throw this.damaged(`a blob of ${size} octets`)
    const begin = this.#padded(size, 0)
    return Uint8Array.from(this.#bytes.subarray(begin, begin + size))
  }

  /** The place of `size` octets, after which come at least `least` nulls, up to a multiple of 4 octets. */
  #padded(size: number, least: number): number {
    const begin = this.take(Math.ceil((size + least) / 4) * 4)
    for (let i = begin + size; i < this.at; i++)
      if (this.#bytes[i] !== 0) throw this.damaged('what fills up to 4 octets is not null')
    return begin
  }

  /** A packet inside a bundle. */
  inner(size: number): Reader {
    const begin = this.take(size)
    return new Reader(this.#bytes.subarray(begin, begin + size), this.from, this.messages)
  }
}

function readPacket(reader: Reader, deep: number): OscPacket {
  if (reader.left === 0 || reader.left % 4 !== 0) throw reader.damaged('the size is no multiple of 4 octets')
  const address = reader.text()
  if (address === '#bundle') return readBundle(reader, deep)
  if (!/^\/[\x21-\x7e]*$/.test(address) || address.length > MOST_ADDRESS)
    throw reader.damaged('an address begins with a slash, and has at most 255 printing characters')
  if (--reader.messages.left < 0)
    throw new CodedError('osc.tooLarge', `more than ${MOST_MESSAGES} messages in a packet`, reader.from)
  return { kind: 'message', address, args: readArguments(reader) }
}

function readBundle(reader: Reader, deep: number): OscBundle {
  if (deep >= MOST_DEEP)
    throw new CodedError('osc.tooLarge', `bundles in bundles, more than ${MOST_DEEP} deep`, reader.from)
  const at = { seconds: reader.uint(), fraction: reader.uint() }
  const packets: OscPacket[] = []
  while (reader.left > 0) packets.push(readPacket(reader.inner(reader.int() >>> 0), deep + 1))
  return { kind: 'bundle', at, packets }
}

/** A message without a type tag string is an old sender's: it has no arguments that could be read (OSC 1.0). */
function readArguments(reader: Reader): OscArgument[] {
  if (reader.left === 0) return []
  const tags = reader.text()
  if (!tags.startsWith(',')) throw reader.damaged('the type tags begin with a comma')
  if (tags.length - 1 > MOST_ARGUMENTS)
    throw new CodedError('osc.tooLarge', `${tags.length - 1} arguments in a message`, reader.from)
  const args = [...tags.slice(1)].map(tag => readArgument(reader, tag))
  if (reader.left > 0) throw reader.damaged(`${reader.left} octets are left over`)
  return args
}

function readArgument(reader: Reader, tag: string): OscArgument {
  switch (tag) {
    case 'i':
      return { type: tag, value: reader.int() }
    case 'f':
      return { type: tag, value: reader.float() }
    case 'd':
      return { type: tag, value: reader.double() }
    case 'h':
      return { type: tag, value: reader.long() }
    case 's':
      return { type: tag, value: reader.text() }
    case 'b':
      return { type: tag, value: reader.blob() }
    case 'T':
    case 'F':
    case 'N':
    case 'I':
      return { type: tag }
    default:
      // Its length is not known, so what follows cannot be read either.
      throw new CodedError('osc.type', `an argument of type "${tag}"`, reader.from)
  }
}
