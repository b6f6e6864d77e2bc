// Both protocols of an output as one stream of packets: what the sockets send and what a capture file holds.

import { CodedError } from '@glowchart/shared/errors.ts'
import type { Output, Route } from '@glowchart/shared/show/output.ts'
import { type ArtDmxSources, artnetStream, ownArtDmx } from './artnet-stream.ts'
import { type Stream, streamKey } from './packet.ts'
import { sacnStream } from './sacn-stream.ts'

/** The stable name of a route's stream of packets. */
export function keyOf({ to, via }: Route): string {
  return streamKey(
    to.protocol,
    to.host,
    to.port,
    to.protocol === 'artnet' ? to.portAddress : to.wireUniverse,
    via,
  )
}

export interface StreamOptions {
  /** 16 octets, the same for the life of this installation (E1.31-2018 5.6). */
  cid: Uint8Array
  /** Last sequence numbers of an earlier run, by stream. */
  sequences?: Readonly<Record<string, number>>
  /** Added to every sACN priority, up to the highest there is. */
  lift?: number
}

/**
 * The exact packets of an output, frame by frame, without a socket.
 * @throws CodedError `output.duplicate` when two routes send to one place under one number
 */
export function openStreams(
  output: Output,
  { cid, sequences = {}, lift = 0 }: StreamOptions,
  artDmx: ArtDmxSources = ownArtDmx,
): Stream & { cancelMerge(): void } {
  const taken = new Map<string, number>()
  for (const [index, route] of output.routes.entries()) {
    const key = keyOf(route)
    const other = taken.get(key)
    if (other !== undefined) {
      const says = `Universes ${output.routes[other]!.universe} and ${route.universe} both go to ${key.split('|').join(' ')}.`
      throw new CodedError('output.duplicate', says, `output.routes[${index}]`)
    }
    taken.set(key, index)
  }
  const artnet = artnetStream(output, artDmx, sequences)
  const streams = [artnet, sacnStream(output, cid, sequences, lift)]
  return {
    frame(universes, levels, now, emit) {
      for (const stream of streams) stream.frame(universes, levels, now, emit)
    },
    end(kept, emit) {
      for (const stream of streams) stream.end(kept, emit)
    },
    sequences(into) {
      for (const stream of streams) stream.sequences(into)
    },
    cancelMerge: artnet.cancelMerge,
  }
}
