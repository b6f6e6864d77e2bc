// The nodes that answer: who replied to which poll, and who has gone. Pure but for what it remembers.

import type { FoundNode } from '@glowchart/shared/messages.ts'
import { ARTNET_PORT, type ArtPollReply } from './artnet.ts'

/** Art-Net 4, ArtPoll: a controller waits 3 s for the answers to a poll; a node that is silent then has gone. */
export const ANSWER_TIME = 3_000

/** More than any venue has; keeps a flood of made-up replies from filling the memory. */
const MOST_NODES = 256

/** A silent node stays listed so long, ms: what has just gone is what is looked for. */
const REMEMBERED = 60_000

/** Where a node is asked by its own address. */
export interface Host {
  address: string
  port: number
}

interface Entry {
  port: number
  /** Null: asked by its address, and never heard. */
  lastSeen: number | null
  /** When it was last heard, or asked for by its address. */
  wanted: number
  /** When the first poll since the last answer went out. */
  askedAt: number | null
  silent: boolean
  claimed: string
  name: string
  longName: string
  /** Output Port-Addresses by bind index: a large node answers with several packets. */
  outputs: Map<number, number[]>
}

export class NodeBook {
  readonly #nodes = new Map<string, Entry>()

  /** A poll went out at `now` (ms): to whole networks, if `everywhere`, and to each of the hosts. */
  asked(now: number, everywhere: boolean, hosts: readonly Host[]): void {
    if (everywhere) for (const entry of this.#nodes.values()) entry.askedAt ??= now
    for (const { address, port } of hosts) {
      const entry = this.#entry(address, port, now)
      if (!entry) continue
      entry.port = port
      entry.wanted = now
      entry.askedAt ??= now
    }
  }

  /** A reply came from `address` at `now` (ms). */
  answered(address: string, reply: ArtPollReply, now: number): void {
    const entry = this.#entry(address, ARTNET_PORT, now)
    if (!entry) return
    entry.outputs.set(reply.bindIndex, reply.outputs)
    entry.lastSeen = entry.wanted = now
    entry.askedAt = null
    entry.silent = false
    entry.claimed = reply.address
    entry.name = reply.shortName
    entry.longName = reply.longName
  }

  /** Marks those that did not answer in time, and forgets those long gone; true when anything changed. */
  strike(now: number): boolean {
    let changed = false
    for (const [address, entry] of this.#nodes) {
      if (!entry.silent && entry.askedAt !== null && now - entry.askedAt > ANSWER_TIME) {
        entry.silent = changed = true
      }
      if (entry.silent && now - entry.wanted > REMEMBERED) changed = this.#nodes.delete(address)
    }
    return changed
  }

  list(): FoundNode[] {
    return [...this.#nodes].map(([address, { port, name, longName, lastSeen, silent, claimed, outputs }]) => {
      const portAddresses = [...new Set([...outputs.values()].flat())].sort((a, b) => a - b)
      return {
        address,
        port,
        name: name || address,
        longName,
        portAddresses,
        lastSeen,
        silent,
        says: lastSeen === null ? '' : remarks(address, claimed, portAddresses),
      }
    })
  }

  #entry(address: string, port: number, now: number): Entry | undefined {
    const known = this.#nodes.get(address)
    if (known || this.#nodes.size >= MOST_NODES) return known
    const fresh: Entry = {
      port,
      lastSeen: null,
      wanted: now,
      askedAt: null,
      silent: false,
      claimed: address,
      name: '',
      longName: '',
      outputs: new Map(),
    }
    this.#nodes.set(address, fresh)
    return fresh
  }
}

function remarks(address: string, claimed: string, outputs: readonly number[]): string {
  const says: string[] = []
  if (claimed !== address && claimed !== '0.0.0.0') says.push(`It says its address is ${claimed}.`)
  if (outputs.length === 0) says.push('It puts out no universe.')
  // Art-Net 4 gave up Port-Address 0 in revision 1.4dp.
  if (outputs.includes(0)) says.push('It answers for Port-Address 0, which newer equipment does not accept.')
  return says.join(' ')
}
