// Who of the house is listened to: the sources of one universe, by the rules of sACN and of Art-Net. No sockets.

import type { ArtDmx } from '../output/artnet.ts'
import { type E131, isOutOfOrder } from '../output/e131.ts'

export interface HouseSource {
  /** Its name, or its address where the protocol gives none. */
  readonly name: string
  readonly slots: Uint8Array
}

/** Times are ms of a monotonic clock. */
export interface Sources<Packet> {
  /** `from`: the sender's address. */
  hear(packet: Packet, from: string, now: number): void
  /** The one that is listened to, and how many others are heard and left out; null when none is there. */
  current(now: number): { readonly source: HouseSource; readonly others: number } | null
  /** The last one has said itself that it ends. */
  readonly ended: boolean
}

/** E1.31-2018 Appendix A, E131_NETWORK_DATA_LOSS_TIMEOUT. */
const SACN_LOSS = 2500
/** Art-Net 4, merging: a source that is silent for so long is gone. */
const ARTNET_LOSS = 10_000
/** More sources on one universe than a house has: more are strangers. */
const MOST_SOURCES = 16

interface Heard extends HouseSource {
  readonly priority: number
  readonly sequence: number
  readonly at: number
}

class Book {
  readonly #sources = new Map<string, Heard>()
  readonly #loss: number

  constructor(loss: number) {
    this.#loss = loss
  }

  get(key: string): Heard | undefined {
    return this.#sources.get(key)
  }

  /** A source keeps its turn as long as it is heard. */
  note(key: string, heard: Heard): void {
    this.#prune(heard.at)
    if (this.#sources.has(key) || this.#sources.size < MOST_SOURCES) this.#sources.set(key, heard)
  }

  end(key: string): boolean {
    return this.#sources.delete(key)
  }

  current(now: number): { source: HouseSource; others: number } | null {
    this.#prune(now)
    let best: Heard | null = null
    for (const one of this.#sources.values()) if (!best || one.priority > best.priority) best = one
    return best && { source: best, others: this.#sources.size - 1 }
  }

  #prune(now: number): void {
    for (const [key, { at }] of this.#sources) if (now - at > this.#loss) this.#sources.delete(key)
  }
}

/**
 * sACN (ANSI E1.31-2018): of several sources the one with the highest priority (6.2.3), of equals the one heard first;
 * each is gone after 2.5 s of silence or by Stream_Terminated (6.7.1, 6.2.6), whose levels are not looked at. Preview
 * data (6.2.6), start codes other than 0 and packets out of sequence (6.7.2) are passed over. Synchronization is not
 * waited for: one value has nothing to be in step with.
 * @param own this installation's CID: what we send ourselves is not the house
 */
export function sacnSources(universe: number, own: Uint8Array): Sources<E131> {
  const book = new Book(SACN_LOSS)
  const ownKey = keyOf(own)
  let ended = false
  return {
    hear(packet, from, now) {
      if (packet.kind !== 'data' || packet.universe !== universe) return
      if (packet.preview || packet.startCode !== 0) return
      const key = keyOf(packet.cid)
      if (key === ownKey) return
      const before = book.get(key)
      if (before && now - before.at <= SACN_LOSS && isOutOfOrder(packet.sequence, before.sequence)) return
      if (packet.terminated) {
        if (book.end(key)) ended = true
        return
      }
      ended = false
      const { priority, sequence, slots } = packet
      book.note(key, { name: packet.sourceName || from, slots, priority, sequence, at: now })
    },
    current: now => book.current(now),
    get ended() {
      return ended
    },
  }
}

const keyOf = (cid: Uint8Array): string => Buffer.from(cid).toString('hex')

/**
 * Art-Net 4: the first source that is heard (an address and its Physical) is kept until it has been silent for 10 s. A
 * node would merge a second one; a master that two desks hold is nobody's, so here it is left out and told of.
 */
export function artnetSources(portAddress: number): Sources<ArtDmx> {
  const book = new Book(ARTNET_LOSS)
  return {
    hear(packet, from, now) {
      if (packet.portAddress !== portAddress) return
      const key = `${from}|${packet.physical}`
      const before = book.get(key)
      // 0 is "no sequence"; for the others Art-Net names no window, so sACN's is taken.
      if (before && packet.sequence !== 0 && before.sequence !== 0)
        if (isOutOfOrder(packet.sequence, before.sequence)) return
      book.note(key, { name: from, slots: packet.slots, priority: 0, sequence: packet.sequence, at: now })
    },
    current: now => book.current(now),
    ended: false,
  }
}
