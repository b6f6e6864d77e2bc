// A receiver that merges as the standards say, as a value: what it puts out after each packet of two controllers.

import { decodeArtDmx, isCancelMerge } from '@glowchart/server/output/artnet.ts'
import { decodeE131, isOutOfOrder } from '@glowchart/server/output/e131.ts'

/** E1.31-2018 6.7.1: E131_NETWORK_DATA_LOSS_TIMEOUT, ms. */
const SACN_LOST = 2500
/** Art-Net 4, data merging: a source that has stopped is held in the merge for so long, ms. */
const ARTNET_HELD = 10_000

interface Source {
  readonly slots: Uint8Array
  readonly at: number
  readonly priority: number
  readonly sequence: number
}

const highest = (sources: readonly Uint8Array[]): Uint8Array => {
  const out = new Uint8Array(512)
  for (const slots of sources) for (const [i, level] of slots.entries()) out[i] = Math.max(out[i]!, level)
  return out
}

/** One universe by E1.31-2018: the highest priority wins outright (6.2.3), equal ones merge highest takes precedence. */
export function sacnPort(universe: number) {
  const sources = new Map<string, Source>()
  return {
    /** The levels that stand after a packet; null when it changes nothing. */
    take(bytes: Uint8Array, at: number): Uint8Array | null {
      const packet = decodeE131(bytes)
      if (packet?.kind !== 'data' || packet.universe !== universe || packet.startCode !== 0) return null
      const cid = Buffer.from(packet.cid).toString('hex')
      const before = sources.get(cid)
      const lost = before === undefined || at - before.at > SACN_LOST
      if (!lost && isOutOfOrder(packet.sequence, before.sequence)) return null
      if (packet.terminated) sources.delete(cid)
      else sources.set(cid, { slots: packet.slots, at, priority: packet.priority, sequence: packet.sequence })
      const live = [...sources.values()].filter(source => at - source.at <= SACN_LOST)
      if (live.length === 0) return null
      const top = Math.max(...live.map(source => source.priority))
      return highest(live.filter(source => source.priority === top).map(source => source.slots))
    },
  }
}

/**
 * One port of a node by Art-Net 4: two controllers merge highest takes precedence; one that is gone is held 10 s; and
 * AcCancelMerge, read to the letter: only a node that merges takes it, and the next ArtDmx carries it out.
 */
export function artnetPort(portAddress: number) {
  const sources = new Map<string, { slots: Uint8Array; at: number }>()
  let cancels = false
  return {
    take(bytes: Uint8Array, from: string, at: number): Uint8Array | null {
      for (const [who, { at: last }] of sources) if (at - last > ARTNET_HELD) sources.delete(who)
      if (isCancelMerge(bytes)) {
        cancels ||= sources.size > 1
        return null
      }
      const packet = decodeArtDmx(bytes)
      if (packet?.portAddress !== portAddress) return null
      if (!sources.has(from) && sources.size === 2 && !cancels) return null
      if (cancels) sources.clear()
      cancels = false
      sources.set(from, { slots: packet.slots, at })
      return highest([...sources.values()].map(source => source.slots))
    },
  }
}
