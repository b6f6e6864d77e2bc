// Who can take universes, and how they are: nodes that answered, addresses that were typed or are sent to, multicast.

import type { FoundNode, Network } from '@glowchart/shared/messages.ts'
import { reach } from '@glowchart/shared/network/reach.ts'
import type { Route } from '@glowchart/shared/show/output.ts'
import { type Host, hostKey, MULTICAST, numberOf, proposed } from './routes.ts'

export interface Receiver {
  readonly key: string
  readonly host: Host
  readonly name: string
  /** The node's long name, address and remarks. */
  readonly about: string
  /** Its Port-Addresses (Art-Net) or universes (sACN), rising. */
  readonly numbers: readonly number[]
  /** Null for those that are never asked. */
  readonly node: FoundNode | null
  /** What keeps it from being reached; empty when nothing does. */
  readonly says: string
}

/**
 * @param routes those live, and those the show has kept
 * @param typed receivers by address
 * @param universes the kit's
 */
export function receiversOf(
  network: Network | null,
  routes: readonly Route[],
  typed: readonly Host[],
  universes: readonly number[],
): Receiver[] {
  const nodes = network?.nodes ?? []
  const artnet = nodes.map(({ address, port }): Host => ({ protocol: 'artnet', host: address, port }))
  const hosts = new Map([...artnet, ...typed, ...routes.map(r => r.to), MULTICAST].map(h => [hostKey(h), h]))
  return [...hosts].map(([key, { protocol, host, port }]) => {
    const node = protocol === 'artnet' ? nodeAt(network, { protocol, host, port }) : null
    const own = node?.portAddresses ?? []
    const used = routes.filter(route => hostKey(route.to) === key).map(route => numberOf(route.to))
    const offered = own.length > 0 ? own : universes.map(universe => proposed(protocol, universe))
    const numbers = [...new Set([...offered, ...used])].sort((a, b) => a - b)
    const verdict = network && host !== 'multicast' ? reach(network.interfaces, host).says : ''
    const name = nameOf(host, protocol, node)
    return {
      key,
      host: { protocol, host, port },
      name,
      about: [node?.longName, name.endsWith(host) ? '' : host].filter(Boolean).join(', '),
      numbers,
      node,
      says: [verdict, node?.says].filter(Boolean).join(' '),
    }
  })
}

/** What is known of the node at an address; null when it was never asked. */
export const nodeAt = (network: Network | null, { host, port }: Host): FoundNode | null =>
  network?.nodes.find(node => node.address === host && node.port === port) ?? null

function nameOf(host: string, protocol: Host['protocol'], node: FoundNode | null): string {
  if (host === 'multicast') return 'sACN multicast'
  return protocol === 'sacn' ? `sACN ${host}` : (node?.name ?? host)
}

/** "seen 2 s ago", "silent for 5 s". @param now ms of the engine's clock */
export function heardText({ lastSeen, silent }: FoundNode, now: number): string {
  if (lastSeen === null) return silent ? 'does not answer' : 'asked, no answer yet'
  const seconds = Math.max(0, Math.round((now - lastSeen) / 1000))
  return silent ? `silent for ${seconds} s` : `seen ${seconds} s ago`
}

/** What is said where light is sent to a node that is silent; null when every node asked has answered. */
export function silenceText(network: Network | null, routes: readonly Route[], now: number): string | null {
  for (const { to } of routes) {
    const node = to.protocol === 'artnet' ? nodeAt(network, to) : null
    if (!node?.silent) continue
    if (node.lastSeen === null) return 'Node does not answer, still sending'
    return `Node silent ${Math.max(0, Math.round((now - node.lastSeen) / 1000))} s, still sending`
  }
  return null
}
