// Streaming ACN packets (ANSI E1.31-2018): data, synchronization and universe discovery, as bytes. No sockets.

export const E131_PORT = 5568
/** The universe that universe discovery is sent on (E1.31-2018 Appendix A). */
export const DISCOVERY_UNIVERSE = 64214
/** Universes on one page of universe discovery (E1.31-2018 8.5). */
const PAGE = 512
const SLOTS = 512
const NAME_OCTETS = 63

const OCTET = {
  priority: 108,
  sync: 109,
  sequence: 111,
  options: 112,
  universe: 113,
  startCode: 125,
  slots: 126,
} as const
const SYNC_SEQUENCE = 44
const PREVIEW = 0x80
const TERMINATED = 0x40
const FORCE_SYNC = 0x20

const IDENTIFIER = Uint8Array.from([0x41, 0x53, 0x43, 0x2d, 0x45, 0x31, 0x2e, 0x31, 0x37, 0, 0, 0]) // "ASC-E1.17"
const text = new TextEncoder()
const utf8 = new TextDecoder()

/** The multicast group of a universe, 239.255.hi.lo (E1.31-2018 9.3.1). */
export function multicastGroup(universe: number): string {
  return `239.255.${universe >> 8}.${universe & 255}`
}

/** The name as UTF-8, cut to 63 octets at a character boundary: the field is 64 octets and ends with a null. */
export function sourceNameOctets(name: string): Uint8Array {
  const octets = new Uint8Array(NAME_OCTETS)
  return octets.subarray(0, text.encodeInto(name, octets).written)
}

/** Flags 0x7 and the length of a PDU that runs from `from` to the packet's end (E1.31-2018 5.4). */
function flagsAndLength(packet: DataView, from: number): void {
  packet.setUint16(from, 0x7000 | (packet.byteLength - from))
}

function root(
  length: number,
  vector: number,
  cid: Uint8Array,
  framingVector: number,
): [Uint8Array, DataView] {
  const bytes = new Uint8Array(length)
  const view = new DataView(bytes.buffer)
  view.setUint16(0, 0x0010)
  bytes.set(IDENTIFIER, 4)
  flagsAndLength(view, 16)
  view.setUint32(18, vector)
  bytes.set(cid.subarray(0, 16), 22)
  flagsAndLength(view, 38)
  view.setUint32(40, framingVector)
  return [bytes, view]
}

export interface DataHeader {
  cid: Uint8Array
  sourceName: string
  /** The universe on the wire, 1…63999. */
  universe: number
  /** 0…200 (E1.31-2018 6.2.3). */
  priority: number
  preview: boolean
  /** Synchronization address, or 0: act on arrival. */
  sync: number
}

/** A data packet of 638 octets with 512 slots at zero, sequence 0: made once a universe, then patched in place. */
export function dataPacket(header: DataHeader): Uint8Array {
  const [bytes, view] = root(OCTET.slots + SLOTS, 4, header.cid, 2)
  bytes.set(sourceNameOctets(header.sourceName), 44)
  bytes[OCTET.priority] = header.priority
  view.setUint16(OCTET.sync, header.sync)
  // Force_Synchronization stays off: when sync packets stop, receivers hold the last look (E1.31-2018 6.2.6).
  bytes[OCTET.options] = header.preview ? PREVIEW : 0
  view.setUint16(OCTET.universe, header.universe)
  flagsAndLength(view, 115)
  bytes[117] = 0x02
  bytes[118] = 0xa1
  view.setUint16(121, 1)
  view.setUint16(123, 1 + SLOTS)
  return bytes
}

/** Puts 512 slots, from `offset` in `levels`, and a sequence number into a data packet. */
export function patchData(packet: Uint8Array, levels: Uint8Array, offset: number, sequence: number): void {
  packet[OCTET.sequence] = sequence
  for (let i = 0; i < SLOTS; i++) packet[OCTET.slots + i] = levels[offset + i]!
}

/** One of the three packets that end the stream of a data packet (E1.31-2018 6.2.6): a copy, marked. */
export function terminated(data: Uint8Array, sequence: number): Uint8Array {
  const packet = Uint8Array.from(data)
  packet[OCTET.sequence] = sequence
  packet[OCTET.options]! |= TERMINATED
  return packet
}

/** A synchronization packet of 49 octets (E1.31-2018 4.2); patch its sequence with `patchSync`. */
export function syncPacket(cid: Uint8Array, address: number): Uint8Array {
  const [bytes, view] = root(49, 8, cid, 1)
  view.setUint16(45, address)
  return bytes
}

export function patchSync(packet: Uint8Array, sequence: number): void {
  packet[SYNC_SEQUENCE] = sequence
}

/** Universe discovery packets of 120…1144 octets: the universes, sorted, at most 512 a page (E1.31-2018 4.3, 8). */
export function discoveryPackets(
  cid: Uint8Array,
  sourceName: string,
  universes: Iterable<number>,
): Uint8Array[] {
  const sorted = [...new Set(universes)].sort((a, b) => a - b)
  const pages = Math.max(1, Math.ceil(sorted.length / PAGE))
  return Array.from({ length: pages }, (_, page) => {
    const listed = sorted.slice(page * PAGE, (page + 1) * PAGE)
    const [bytes, view] = root(120 + 2 * listed.length, 8, cid, 2)
    bytes.set(sourceNameOctets(sourceName), 44)
    flagsAndLength(view, 112)
    view.setUint32(114, 1)
    bytes[118] = page
    bytes[119] = pages - 1
    for (const [i, universe] of listed.entries()) view.setUint16(120 + 2 * i, universe)
    return bytes
  })
}

export type E131 =
  | {
      kind: 'data'
      cid: Uint8Array
      sourceName: string
      priority: number
      sync: number
      sequence: number
      preview: boolean
      terminated: boolean
      forceSync: boolean
      universe: number
      startCode: number
      slots: Uint8Array
    }
  | { kind: 'sync'; cid: Uint8Array; sequence: number; sync: number }
  | {
      kind: 'discovery'
      cid: Uint8Array
      sourceName: string
      page: number
      lastPage: number
      universes: number[]
    }

/** Reads an E1.31 packet; null for any bytes that are not a whole one of the three kinds. Never throws. */
export function decodeE131(bytes: Uint8Array): E131 | null {
  if (bytes.length < 49) return null
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length)
  const spans = (from: number) => {
    const field = view.getUint16(from)
    return field >> 12 === 7 && (field & 0xfff) === bytes.length - from
  }
  if (view.getUint16(0) !== 0x0010 || view.getUint16(2) !== 0) return null
  if (IDENTIFIER.some((octet, i) => bytes[4 + i] !== octet) || !spans(16) || !spans(38)) return null
  const extended = view.getUint32(18) === 8
  const vector = view.getUint32(40)
  // Copies: a receiver's buffer may be used again, and slice() of a Node Buffer would share it.
  const cid = Uint8Array.from(bytes.subarray(22, 38))
  if (extended && vector === 1) {
    if (bytes.length !== 49) return null
    return { kind: 'sync', cid, sequence: bytes[SYNC_SEQUENCE]!, sync: view.getUint16(45) }
  }
  if (extended && vector === 2) {
    if (bytes.length < 120 || bytes.length > 1144 || bytes.length % 2 !== 0) return null
    if (!spans(112) || view.getUint32(114) !== 1) return null
    const universes = Array.from({ length: (bytes.length - 120) / 2 }, (_, i) => view.getUint16(120 + 2 * i))
    return {
      kind: 'discovery',
      cid,
      sourceName: readName(bytes),
      page: bytes[118]!,
      lastPage: bytes[119]!,
      universes,
    }
  }
  if (view.getUint32(18) !== 4 || vector !== 2) return null
  const count = bytes.length - OCTET.startCode
  if (count < 1 || count > 1 + SLOTS || !spans(115) || view.getUint16(123) !== count) return null
  if (bytes[117] !== 0x02 || bytes[118] !== 0xa1 || view.getUint16(119) !== 0 || view.getUint16(121) !== 1)
    return null
  const universe = view.getUint16(OCTET.universe)
  const priority = bytes[OCTET.priority]!
  if (universe < 1 || universe > 63999 || priority > 200) return null
  const options = bytes[OCTET.options]!
  return {
    kind: 'data',
    cid,
    sourceName: readName(bytes),
    priority,
    sync: view.getUint16(OCTET.sync),
    sequence: bytes[OCTET.sequence]!,
    preview: (options & PREVIEW) !== 0,
    terminated: (options & TERMINATED) !== 0,
    forceSync: (options & FORCE_SYNC) !== 0,
    universe,
    startCode: bytes[OCTET.startCode]!,
    slots: Uint8Array.from(bytes.subarray(OCTET.slots)),
  }
}

function readName(bytes: Uint8Array): string {
  const field = bytes.subarray(44, 108)
  const end = field.indexOf(0)
  return utf8.decode(end < 0 ? field : field.subarray(0, end))
}

/** Whether a receiver drops a packet as old: −20 < int8(sequence − last) ≤ 0 (E1.31-2018 6.7.2). */
export function isOutOfOrder(sequence: number, last: number): boolean {
  const ahead = ((sequence - last) << 24) >> 24
  return ahead > -20 && ahead <= 0
}
