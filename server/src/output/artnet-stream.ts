// The Art-Net packets of each frame: ArtDmx for every universe that is due, then ArtSync to the nodes that got any.

import type { Output } from '@glowchart/shared/show/output.ts'
import { artCancelMerge, artDmx, artSync, nextSequence, patchArtDmx } from './artnet.ts'
import { Lane } from './lane.ts'
import { CONTROL, type Destination, RESTART_JUMP, type Stream, streamKey } from './packet.ts'

/** Makes the ArtDmx packets of one universe: our own encoder for a capture file, dmxnet for the network. */
export interface ArtDmxSource {
  /** The next ArtDmx, with the 512 bytes from `offset` in `levels`; it may be patched in place by the next call. */
  next(levels: Uint8Array, offset: number): Uint8Array
  /** The sequence number of the next packet, 1…255. */
  readonly sequence: number
}
export type ArtDmxSources = (to: Destination, portAddress: number, firstSequence: number) => ArtDmxSource

/** Our own encoder: the bytes that dmxnet puts on the wire, as a test proves. */
export const ownArtDmx: ArtDmxSources = (_to, portAddress, firstSequence) => {
  const packet = artDmx(portAddress)
  let sequence = firstSequence
  return {
    next(levels, offset) {
      patchArtDmx(packet, levels, offset, sequence)
      sequence = nextSequence(sequence)
      return packet
    },
    get sequence() {
      return sequence
    },
  }
}

/**
 * Frames before which nodes are bidden to end their merge. A node that reads the standard to the letter takes it only
 * while it merges: not before our first ArtDmx; and the other laptop's last frame may come a moment after.
 */
const CANCELLED_FRAMES = 8
/** Art-Net 4 gives each port of a node a bind index; which of them ours are is not known here. */
const BOUND_DEVICES = 4

export function artnetStream(
  output: Output,
  sources: ArtDmxSources,
  known: Readonly<Record<string, number>>,
): Stream & { cancelMerge(): void } {
  const sync = artSync()
  const cancels = Array.from({ length: BOUND_DEVICES }, (_, i) => artCancelMerge(i + 1))
  let cancelling = 0
  /** Art-Net 4 broadcasts ArtSync; here it goes by unicast to each node in use, so that no one else is touched. */
  const nodes = new Map<string, { to: Destination; sent: boolean }>()

  const senders = output.routes.flatMap((route, index) => {
    if (route.to.protocol !== 'artnet') return []
    const { host, port, portAddress, mode } = route.to
    const key = streamKey('artnet', host, port, portAddress, route.via)
    const last = known[key]
    // Art-Net 4 names no window in which old packets are dropped, but nodes may have one: jump as for sACN.
    const first = last === undefined || last < 1 || last > 255 ? 1 : nextSequence(last, RESTART_JUMP)
    const nodeKey = streamKey('artnet', host, port, 0, route.via)
    const node = nodes.get(nodeKey) ?? { to: { host, port, via: route.via, multicast: false }, sent: false }
    nodes.set(nodeKey, node)
    const source = sources(node.to, portAddress, first)
    return [{ route: index, key, lane: new Lane(route.universe, mode === 'every'), source, node }]
  })

  return {
    cancelMerge() {
      cancelling = CANCELLED_FRAMES
    },
    frame(universes, levels, now, emit) {
      if (cancelling > 0) {
        cancelling--
        for (const { to } of nodes.values()) for (const cancel of cancels) emit(cancel, to, CONTROL)
      }
      for (const { route, lane, source, node } of senders) {
        const offset = lane.due(universes, levels, now)
        if (offset < 0) continue
        emit(source.next(levels, offset), node.to, route)
        node.sent = true
      }
      if (output.sync === false) return
      for (const node of nodes.values()) {
        if (node.sent) emit(sync, node.to, CONTROL)
        node.sent = false
      }
    },
    // Art-Net has no "end": a node holds its last look.
    end() {},
    sequences(into) {
      for (const { key, source } of senders) into[key] = nextSequence(source.sequence, 254)
    },
  }
}
