// The datagrams of a pair: packed, authenticated, and each taken once.

import { createHmac, timingSafeEqual } from 'node:crypto'
import { deflateRawSync, inflateRawSync } from 'node:zlib'

/**
 * Layout, big-endian: 0 "GCU1" · 4 stream (8 octets, one a sending socket) · 12 counter u64 · 20 nonce (8) · 28 challenge (8) ·
 * 36 JSON, deflated (RFC 1951) · last 32 HMAC-SHA256 (RFC 2104) of all before. The nonce is made when a process
 * starts and comes back as the challenge: who hears its own nonce knows that the other is alive now.
 */
const MAGIC = Buffer.from('GCU1')
const HEADER = 36
const MAC = 32
/** A datagram unpacks to at most so many octets: nobody fills our memory, not even with the key. */
const MOST_UNPACKED = 1 << 20

export const NONCE_OCTETS = 8

export interface Envelope {
  readonly stream: Buffer
  readonly counter: bigint
  /** The sender's own. */
  readonly nonce: Buffer
  /** The receiver's, as far as the sender knows it; zeros before that. */
  readonly challenge: Buffer
}

export function sealDatagram(key: Buffer, envelope: Envelope, value: unknown): Buffer {
  const body = deflateRawSync(Buffer.from(JSON.stringify(value)))
  const bytes = Buffer.alloc(HEADER + body.length + MAC)
  MAGIC.copy(bytes)
  envelope.stream.copy(bytes, 4, 0, 8)
  bytes.writeBigUInt64BE(envelope.counter, 12)
  envelope.nonce.copy(bytes, 20, 0, NONCE_OCTETS)
  envelope.challenge.copy(bytes, 28, 0, NONCE_OCTETS)
  body.copy(bytes, HEADER)
  macOf(key, bytes.subarray(0, -MAC)).copy(bytes, bytes.length - MAC)
  return bytes
}

/** Null for bytes that the other half of the pair did not write. Never throws. */
export function openDatagram(key: Buffer, bytes: Buffer): (Envelope & { value: unknown }) | null {
  if (bytes.length < HEADER + MAC || !bytes.subarray(0, 4).equals(MAGIC)) return null
  if (!timingSafeEqual(macOf(key, bytes.subarray(0, -MAC)), bytes.subarray(-MAC))) return null
  try {
    const text = inflateRawSync(bytes.subarray(HEADER, -MAC), { maxOutputLength: MOST_UNPACKED })
    return {
      stream: Buffer.from(bytes.subarray(4, 12)),
      counter: bytes.readBigUInt64BE(12),
      nonce: Buffer.from(bytes.subarray(20, 28)),
      challenge: Buffer.from(bytes.subarray(28, 36)),
      value: JSON.parse(text.toString()),
    }
  } catch {
    return null
  }
}

const macOf = (key: Buffer, bytes: Buffer): Buffer => createHmac('sha256', key).update(bytes).digest()

/** Streams remembered: one a start of the other's engine, and two while roles change. */
const MOST_STREAMS = 256

/** Takes each datagram of a stream once, and none older than the last. */
export function replayGuard(): (envelope: Pick<Envelope, 'stream' | 'counter'>) => boolean {
  const last = new Map<string, bigint>()
  return ({ stream, counter }) => {
    const key = stream.toString('hex')
    const before = last.get(key)
    if (before === undefined ? last.size >= MOST_STREAMS : counter <= before) return false
    last.set(key, counter)
    return true
  }
}
