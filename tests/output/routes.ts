// Outputs and frames for the tests of this folder: short to write, everything on loopback.

import type { Destination, Emit, Stream } from '@glowchart/server/output/packet.ts'
import { type Output, outputSchema } from '@glowchart/shared/show/output.ts'

export type OutputInput = (typeof outputSchema)['_zod']['input']

export const cid = Uint8Array.from({ length: 16 }, (_, i) => 0xa0 + i)

export function output(input: OutputInput): Output {
  return outputSchema.parse(input)
}

/** 512 bytes a universe, different in every slot and every frame. */
export function levels(universes: number, seed: number): Uint8Array {
  return Uint8Array.from({ length: universes * 512 }, (_, i) => (i * 31 + (i >> 8) * 7 + seed * 13) & 255)
}

interface Sent {
  bytes: Uint8Array
  to: Destination
  route: number
  at: number
}

/** Drives a stream by hand and keeps copies of what it emits. */
export function record(stream: Stream) {
  const sent: Sent[] = []
  let now = 0
  const emit: Emit = (bytes, to, route) => sent.push({ bytes: Uint8Array.from(bytes), to, route, at: now })
  return {
    sent,
    frame(universes: readonly number[], bytes: Uint8Array, at: number) {
      now = at
      stream.frame(universes, bytes, at, emit)
    },
    end: (kept: readonly string[] = []) => stream.end(new Set(kept), emit),
  }
}
