// Ways out as the page draws them up: one universe to one number of one receiver.

import { portAddressText } from '@glowchart/shared/network/port-address.ts'
import type { Route } from '@glowchart/shared/show/output.ts'

type To = Route['to']
export type Protocol = To['protocol']

/** A receiver: who takes universes, under which protocol. */
export interface Host {
  readonly protocol: Protocol
  /** An IPv4 address, or "multicast" for sACN. */
  readonly host: string
  readonly port: number
}

/** UDP ports: Art-Net 4; E1.31-2018 9.1.1. */
const PORTS: Record<Protocol, number> = { artnet: 6454, sacn: 5568 }
export const MULTICAST: Host = { protocol: 'sacn', host: 'multicast', port: PORTS.sacn }

/** What is proposed: universe 1 on Port-Address 0 and so on; for sACN the same number. */
export const proposed = (protocol: Protocol, universe: number): number =>
  protocol === 'sacn' ? universe : universe - 1

const octet = '(25[0-5]|2[0-4]\\d|1?\\d?\\d)'
const address = new RegExp(`^(${octet}(?:\\.${octet}){3})(?::(\\d{1,5}))?$`)

/** Reads a typed address ("10.0.0.20", or with its UDP port "10.0.0.20:6454"); what is wrong with it, in words. */
export function hostOf(protocol: Protocol, text: string): Host | string {
  const found = address.exec(text)
  if (!found)
    return text === '' ? 'Type the address of the node' : 'An address has four numbers, as in 10.0.0.20'
  const port = found[4] === undefined ? PORTS[protocol] : Number(found[4])
  return port >= 1 && port <= 65535 ? { protocol, host: found[1]!, port } : 'A UDP port is from 1 to 65535'
}

/** Least and greatest number a universe may have on the wire. */
export const numberRange = (protocol: Protocol): { min: number; max: number } =>
  protocol === 'artnet' ? { min: 0, max: 32767 } : { min: 1, max: 63999 }

export const numberOf = (to: To): number => (to.protocol === 'artnet' ? to.portAddress : to.wireUniverse)
export const hostKey = ({ protocol, host, port }: Host): string => `${protocol} ${host}:${port}`
/** The place a universe goes to: no two routes may share one. */
export const placeKey = (to: To): string => `${hostKey(to)} ${numberOf(to)}`

/** The way to a number of a receiver; what `like` sets for its protocol stays. */
export function wayTo({ protocol, host, port }: Host, number: number, like?: To): To {
  if (protocol === 'artnet') {
    const mode = like?.protocol === 'artnet' ? like.mode : 'every'
    return { protocol, host, port, portAddress: number, mode }
  }
  const kept = like?.protocol === 'sacn' ? like : { priority: 100, preview: false, mode: 'changes' as const }
  const { priority, preview, mode } = kept
  return { protocol, host, port, wireUniverse: number, priority, preview, mode }
}

/** The routes with one in the place of another (`old`; null: added). What went to the same place before gives way. */
export function withRoute(routes: readonly Route[], old: Route | null, next: Route | null): Route[] {
  const rest = routes.filter(route => route !== old && (!next || placeKey(route.to) !== placeKey(next.to)))
  const all = next ? [...rest, next] : rest
  return all.sort((a, b) => a.universe - b.universe)
}

export const protocolName = (protocol: Protocol): string => (protocol === 'artnet' ? 'Art-Net' : 'sACN')

/** "port 0:0:1 (1)": Net, Sub-Net, Universe, and the Port-Address as one number; "universe 1" for sACN. */
export const numberText = (protocol: Protocol, number: number): string =>
  protocol === 'artnet' ? `port ${portAddressText(number)} (${number})` : `universe ${number}`

/** "Universe 1 to Art-Net 10.0.0.20, port 0:0:0 (0)". */
export const routeName = ({ universe, to }: Route): string =>
  `Universe ${universe} to ${protocolName(to.protocol)} ${to.host}, ${numberText(to.protocol, numberOf(to))}`
