// The nodes that answer: who replied to which poll, and who has gone. Pure but for what it remembers.

import type { FoundNode } from '@glowchart/shared/messages.ts'
import type { ArtPollReply } from './artnet.ts'
import { type LocalInterface, reachability } from './reachability.ts'

/** Art-Net 4, ArtPoll: a controller waits 3 s for the answers to a poll; a node that is silent then has gone. */
export const ANSWER_TIME = 3_000

/** More than any venue has; keeps a flood of made-up replies from filling the memory. */
const MOST_NODES = 256

interface Entry {
  lastSeen: number
  /** When the first poll since the last answer went out. */
  askedAt: number | null
  claimed: string
  name: string
  longName: string
  /** Output Port-Addresses by bind index: a large node answers with several packets. */
  outputs: Map<number, number[]>
}

export class NodeBook {
  readonly #nodes = new Map<string, Entry>()

  /** A poll went out at `now` (ms). */
  asked(now: number): void {
    for (const entry of this.#nodes.values()) entry.askedAt ??= now
  }

  /** A reply came from `address` at `now` (ms). */
  answered(address: string, reply: ArtPollReply, now: number): void {
    const entry = this.#nodes.get(address)
    if (!entry && this.#nodes.size >= MOST_NODES) return
    const outputs = entry?.outputs ?? new Map<number, number[]>()
    outputs.set(reply.bindIndex, reply.outputs)
    this.#nodes.set(address, {
      lastSeen: now,
      askedAt: null,
      claimed: reply.address,
      name: reply.shortName,
      longName: reply.longName,
      outputs,
    })
  }

  /** Strikes out those that did not answer in time; true when there were any. */
  strike(now: number): boolean {
    let struck = false
    for (const [address, { askedAt }] of this.#nodes) {
      if (askedAt !== null && now - askedAt > ANSWER_TIME) struck = this.#nodes.delete(address)
    }
    return struck
  }

  list(interfaces: readonly LocalInterface[]): FoundNode[] {
    return [...this.#nodes].map(([address, entry]) => {
      const portAddresses = [...new Set([...entry.outputs.values()].flat())].sort((a, b) => a - b)
      return {
        address,
        name: entry.name || address,
        longName: entry.longName,
        portAddresses,
        lastSeen: entry.lastSeen,
        says: remarks(address, entry.claimed, portAddresses, interfaces),
      }
    })
  }
}

function remarks(
  address: string,
  claimed: string,
  outputs: number[],
  interfaces: readonly LocalInterface[],
): string {
  const says = [reachability(interfaces, address)]
  if (claimed !== address && claimed !== '0.0.0.0') says.push(`It says its address is ${claimed}.`)
  if (outputs.length === 0) says.push('It puts out no universe.')
  // Art-Net 4 gave up Port-Address 0 in revision 1.4dp.
  if (outputs.includes(0)) says.push('It answers for Port-Address 0, which newer equipment does not accept.')
  return says.filter(text => text !== '').join(' ')
}
