// A capture file of the packets that an output sends: classic pcap, raw IPv4, readable by any protocol analyser.

import type { Output } from '@glowchart/shared/show/output.ts'
import type { Destination, Emit } from './packet.ts'
import { openStreams, type StreamOptions } from './streams.ts'

/** LINKTYPE_IPV4's forerunner LINKTYPE_RAW: packets begin with the IP header (the tcpdump group's list of link types). */
const LINK_TYPE_RAW = 101
const IP_HEADER = 20
const UDP_HEADER = 8
const UDP = 17

/** Writes the file header at once, then one record a packet. `write` gets bytes it may keep. */
export function pcapWriter(
  write: (bytes: Uint8Array) => void,
): (payload: Uint8Array, to: Destination, at: number) => void {
  const header = new DataView(new ArrayBuffer(24))
  header.setUint32(0, 0xa1b2c3d4, true)
  header.setUint16(4, 2, true)
  header.setUint16(6, 4, true)
  header.setUint32(16, 65535, true)
  header.setUint32(20, LINK_TYPE_RAW, true)
  write(new Uint8Array(header.buffer))

  let identification = 0
  /** `at`: ms from the capture's beginning. */
  return (payload, to, at) => {
    const datagram = udpDatagram(payload, to, identification)
    identification = (identification + 1) & 0xffff
    const record = new Uint8Array(16 + datagram.length)
    const view = new DataView(record.buffer)
    const micros = Math.round(at * 1000)
    view.setUint32(0, Math.floor(micros / 1e6), true)
    view.setUint32(4, micros % 1e6, true)
    view.setUint32(8, datagram.length, true)
    view.setUint32(12, datagram.length, true)
    record.set(datagram, 16)
    write(record)
  }
}

/** Writes frames as the packets that `openOutputs` would send for them; `at` in ms is both clock and time stamp. */
export function captureFrames(output: Output, options: StreamOptions, write: (bytes: Uint8Array) => void) {
  const streams = openStreams(output, options)
  const packet = pcapWriter(write)
  let clock = 0
  const emit: Emit = (bytes, to) => packet(bytes, to, clock)
  return {
    frame(universes: readonly number[], levels: Uint8Array, at: number): void {
      clock = at
      streams.frame(universes, levels, at, emit)
    },
    /** The packets that end the streams. */
    end(): void {
      streams.end(new Set(), emit)
    },
  }
}

/** An IPv4 packet (RFC 791) with a UDP datagram (RFC 768), both checksums filled in. */
function udpDatagram(payload: Uint8Array, to: Destination, identification: number): Uint8Array {
  const bytes = new Uint8Array(IP_HEADER + UDP_HEADER + payload.length)
  const view = new DataView(bytes.buffer)
  bytes[0] = 0x45
  view.setUint16(2, bytes.length)
  view.setUint16(4, identification)
  view.setUint16(6, 0x4000) // don't fragment
  bytes[8] = to.multicast ? 16 : 64
  bytes[9] = UDP
  bytes.set(octets(sourceOf(to)), 12)
  bytes.set(octets(to.host), 16)
  view.setUint16(10, onesComplementSum(view, 0, IP_HEADER, 0) ^ 0xffff)

  const length = UDP_HEADER + payload.length
  view.setUint16(IP_HEADER, to.port)
  view.setUint16(IP_HEADER + 2, to.port)
  view.setUint16(IP_HEADER + 4, length)
  bytes.set(payload, IP_HEADER + UDP_HEADER)
  // The checksum covers the addresses, the protocol and the length too (RFC 768); zero would mean "none".
  const pseudo = onesComplementSum(view, 12, IP_HEADER, UDP + length)
  view.setUint16(IP_HEADER + 6, onesComplementSum(view, IP_HEADER, bytes.length, pseudo) ^ 0xffff || 0xffff)
  return bytes
}

/** The system chooses the source when no interface is named; a file can only say so with 0.0.0.0. */
function sourceOf({ via, host }: Destination): string {
  return via ?? (host.startsWith('127.') ? '127.0.0.1' : '0.0.0.0')
}

function octets(address: string): number[] {
  return address.split('.').map(Number)
}

function onesComplementSum(view: DataView, from: number, to: number, start: number): number {
  let sum = start
  for (let i = from; i + 1 < to; i += 2) sum += view.getUint16(i)
  if ((to - from) % 2 === 1) sum += view.getUint8(to - 1) << 8
  while (sum > 0xffff) sum = (sum & 0xffff) + (sum >>> 16)
  return sum
}
