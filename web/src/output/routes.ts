// Tonight's ways out as the page draws them up: the kit's universes, each sent to one node.

import type { Output, Route } from '@glowchart/shared/show/output.ts'

export type Protocol = Route['to']['protocol']

export interface Draft {
  readonly protocol: Protocol
  /** An IPv4 address, or "multicast" for sACN. */
  readonly host: string
  /** By universe as Glowchart numbers it: the Port-Address (Art-Net), or the universe on the wire (sACN). */
  readonly numbers: Readonly<Record<number, number>>
}

/** What is proposed: universe 1 on Port-Address 0 and so on; for sACN the same number. */
export const proposed = (
  protocol: Protocol,
  universe: number,
  answers?: readonly number[],
  index = 0,
): number => (protocol === 'sacn' ? universe : (answers?.[index] ?? universe - 1))

const octet = '(25[0-5]|2[0-4]\\d|1?\\d?\\d)'
const address = new RegExp(`^${octet}(\\.${octet}){3}$`)

/** What is wrong with an address, in words; null when it can be sent to. */
export function hostFault(protocol: Protocol, host: string): string | null {
  if (protocol === 'sacn' && host === 'multicast') return null
  if (address.test(host)) return null
  return host === '' ? 'Type the address of the node' : 'An address has four numbers, as in 10.0.0.20'
}

/** Least and greatest number a universe may have on the wire. */
export const numberRange = (protocol: Protocol): { min: number; max: number } =>
  protocol === 'artnet' ? { min: 0, max: 32767 } : { min: 1, max: 63999 }

export function outputOf(output: Output, universes: readonly number[], draft: Draft): Output {
  const routes = universes.map((universe): Route => {
    const number = draft.numbers[universe] ?? proposed(draft.protocol, universe)
    return draft.protocol === 'artnet'
      ? {
          universe,
          to: { protocol: 'artnet', host: draft.host, port: 6454, portAddress: number, mode: 'every' },
        }
      : {
          universe,
          to: {
            protocol: 'sacn',
            host: draft.host,
            port: 5568,
            wireUniverse: number,
            priority: 100,
            preview: false,
            mode: 'changes',
          },
        }
  })
  return { ...output, routes }
}

export const protocolName = (protocol: Protocol): string => (protocol === 'artnet' ? 'Art-Net' : 'sACN')

/** "Universe 1 to Art-Net 10.0.0.20, port address 0". */
export function routeName({ universe, to }: Route): string {
  return to.protocol === 'artnet'
    ? `Universe ${universe} to Art-Net ${to.host}, port address ${to.portAddress}`
    : `Universe ${universe} to sACN ${to.host}, universe ${to.wireUniverse}`
}
