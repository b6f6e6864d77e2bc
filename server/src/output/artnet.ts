// Art-Net 4 packets (Artistic Licence): ArtDmx, ArtSync, ArtPoll, ArtPollReply, as bytes. No sockets.

import { composePortAddress, splitPortAddress } from '@glowchart/shared/network/port-address.ts'

/** 0x1936 (Art-Net 4). */
export const ARTNET_PORT = 6454
const IDENTIFIER = Uint8Array.from([0x41, 0x72, 0x74, 0x2d, 0x4e, 0x65, 0x74, 0]) // "Art-Net"
const OP = { poll: 0x2000, pollReply: 0x2100, dmx: 0x5000, sync: 0x5200, address: 0x6000 } as const
const VERSION = 14
const SLOTS = 512
const DATA = 18
const utf8 = new TextDecoder()

function packet(length: number, op: number): Uint8Array {
  const bytes = new Uint8Array(length)
  bytes.set(IDENTIFIER)
  const view = new DataView(bytes.buffer)
  view.setUint16(8, op, true)
  view.setUint16(10, VERSION)
  return bytes
}

/** An ArtDmx of 530 octets with 512 slots at zero: made once a universe, then patched in place. */
export function artDmx(portAddress: number): Uint8Array {
  const bytes = packet(DATA + SLOTS, OP.dmx)
  bytes[14] = portAddress & 0xff
  bytes[15] = portAddress >> 8
  new DataView(bytes.buffer).setUint16(16, SLOTS)
  return bytes
}

/** Puts 512 slots, from `offset` in `levels`, and a sequence number (1…255) into an ArtDmx. */
export function patchArtDmx(bytes: Uint8Array, levels: Uint8Array, offset: number, sequence: number): void {
  bytes[12] = sequence
  for (let i = 0; i < SLOTS; i++) bytes[DATA + i] = levels[offset + i]!
}

/** The sequence number after this one: 1…255, then 1 again, as 0 means "not used" (Art-Net 4, ArtDmx). */
export function nextSequence(sequence: number, by = 1): number {
  return ((sequence - 1 + by) % 255) + 1
}

/** An ArtSync, 14 octets: nodes put out what they hold. */
export function artSync(): Uint8Array {
  return packet(14, OP.sync)
}

/** Art-Net 4, ArtAddress: "no change" of a switch, and of the sACN priority. */
const SAME_SWITCH = 0x7f
const SAME_PRIORITY = 255
/** Art-Net 4, ArtAddress, AcCancelMerge: "If Node is currently in merge mode, cancel merge mode upon receipt of next ArtDmx packet." */
const CANCEL_MERGE = 0x01

/**
 * An ArtAddress of 107 octets that changes nothing at the node, and bids it forget the other source of its merge with
 * the next ArtDmx. @param bindIndex which of a node's bound devices, 1 the root
 */
export function artCancelMerge(bindIndex: number): Uint8Array {
  const bytes = packet(107, OP.address)
  bytes[12] = SAME_SWITCH
  bytes[13] = bindIndex
  // 14…95, the names: empty, and so left as they are. 96…99 inputs, 100…103 outputs, 104 Sub-Net.
  bytes.fill(SAME_SWITCH, 96, 105)
  bytes[105] = SAME_PRIORITY
  bytes[106] = CANCEL_MERGE
  return bytes
}

/** Whether bytes are an ArtAddress that cancels a merge. */
export const isCancelMerge = (bytes: Uint8Array): boolean =>
  opOf(bytes) === OP.address && bytes.length >= 107 && bytes[106] === CANCEL_MERGE

/** An ArtPoll, 14 octets, asking for one answer and no diagnostics. */
export function artPoll(): Uint8Array {
  return packet(14, OP.poll)
}

/** Whether the bytes are an ArtPoll; consumers accept 12 octets and more (Art-Net 4). */
export const isArtPoll = (bytes: Uint8Array): boolean => opOf(bytes) === OP.poll && bytes.length >= 12

const ascii = new TextEncoder()

/**
 * An ArtPollReply of 239 octets (Art-Net 4) of a node that takes one Port-Address: what makes a controller send to us,
 * as it sends only to those who have said that they listen. `address`: ours, IPv4.
 */
export function artPollReply(address: string, portAddress: number): Uint8Array {
  const bytes = new Uint8Array(239)
  bytes.set(IDENTIFIER)
  const view = new DataView(bytes.buffer)
  view.setUint16(8, OP.pollReply, true)
  const octets = address.split('.').map(Number)
  bytes.set(octets, 10)
  view.setUint16(14, ARTNET_PORT, true)
  const { net, subNet, universe } = splitPortAddress(portAddress)
  bytes[18] = net
  bytes[19] = subNet
  // OEM code: unknown.
  view.setUint16(20, 0x00ff)
  bytes.set(ascii.encode('Glowchart'), 26)
  bytes.set(ascii.encode('Glowchart, house input'), 44)
  bytes.set(ascii.encode('#0001 [0000] Listening'), 108)
  bytes[173] = 1
  // One port that takes DMX512 from the network, and is taking it.
  bytes[174] = 0x80
  bytes[182] = 0x80
  bytes[190] = universe
  bytes.set(octets, 207)
  bytes[211] = 1
  // Status2: 15-bit Port-Addresses.
  bytes[212] = 0x08
  return bytes
}

function opOf(bytes: Uint8Array): number {
  if (bytes.length < 10 || IDENTIFIER.some((octet, i) => bytes[i] !== octet)) return 0
  return bytes[8]! | (bytes[9]! << 8)
}

export interface ArtDmx {
  sequence: number
  physical: number
  portAddress: number
  slots: Uint8Array
}

/** Reads an ArtDmx; null for any other bytes. Never throws. */
export function decodeArtDmx(bytes: Uint8Array): ArtDmx | null {
  if (opOf(bytes) !== OP.dmx || bytes.length < DATA) return null
  const length = (bytes[16]! << 8) | bytes[17]!
  const version = (bytes[10]! << 8) | bytes[11]!
  if (version < VERSION || length < 2 || length > SLOTS || bytes.length < DATA + length) return null
  return {
    sequence: bytes[12]!,
    physical: bytes[13]!,
    portAddress: bytes[14]! | ((bytes[15]! & 0x7f) << 8),
    slots: Uint8Array.from(bytes.subarray(DATA, DATA + length)),
  }
}

export interface ArtPollReply {
  /** The address the node gives itself, which need not be the one it sends from. */
  address: string
  shortName: string
  longName: string
  report: string
  /** Which of several replies of one node this is; 1 where the reply is too old to say. */
  bindIndex: number
  /** Port-Addresses that it puts out as DMX512. */
  outputs: number[]
}

/**
 * Reads an ArtPollReply. The packet has 239 octets today and had 207 and fewer in older revisions; all that is used here
 * ends at octet 194, so that is the least it takes. Null for any other bytes. Never throws.
 */
export function decodeArtPollReply(bytes: Uint8Array): ArtPollReply | null {
  if (opOf(bytes) !== OP.pollReply || bytes.length < 194) return null
  const outputs: number[] = []
  const ports = Math.min(4, (bytes[172]! << 8) | bytes[173]!)
  for (let i = 0; i < ports; i++) {
    const canOutput = (bytes[174 + i]! & 0x80) !== 0
    if (canOutput)
      outputs.push(composePortAddress({ net: bytes[18]!, subNet: bytes[19]!, universe: bytes[190 + i]! }))
  }
  return {
    address: bytes.subarray(10, 14).join('.'),
    shortName: readText(bytes, 26, 18),
    longName: readText(bytes, 44, 64),
    report: readText(bytes, 108, 64),
    bindIndex: bytes.length > 211 ? Math.max(1, bytes[211]!) : 1,
    outputs,
  }
}

/** Null-terminated text with control characters taken out: it comes from a stranger and goes to a screen. */
function readText(bytes: Uint8Array, from: number, size: number): string {
  const field = bytes.subarray(from, from + size)
  const end = field.indexOf(0)
  return utf8.decode(end < 0 ? field : field.subarray(0, end)).replace(/\p{Cc}/gu, '')
}
