// Whether a node can be reached from this laptop's networks, and if not what to set, in plain words.

import {
  broadcastOf,
  contains,
  isLoopback,
  isSelfAssigned,
  type LocalInterface,
  linkOf,
  prefixOf,
} from './ipv4.ts'

/**
 * `near`: an interface is on the node's network. `choice`: more than one is, and the system may take the wrong one.
 * `apart`: none is, or the address cannot be a node's. `says` is empty when all is well.
 */
export interface Reach {
  readonly state: 'near' | 'choice' | 'apart'
  readonly says: string
}

const NEAR: Reach = { state: 'near', says: '' }
const apart = (says: string): Reach => ({ state: 'apart', says })

/**
 * @param node its IPv4 address
 * @param via the local address it is sent from; left out: the system chooses
 */
export function reach(interfaces: readonly LocalInterface[], node: string, via?: string): Reach {
  if (isLoopback(node)) return NEAR
  const outside = interfaces.filter(one => !isLoopback(one.address))
  if (outside.some(one => one.address === node)) {
    return apart(
      `${node} is this laptop’s own address. If the node has it too, give one of the two another address.`,
    )
  }
  if (outside.length === 0) {
    return apart(`This laptop is on no network: plug in the cable, or join the Wi-Fi, to reach ${node}.`)
  }
  const used = via === undefined ? outside : outside.filter(one => one.address === via)
  if (used.length === 0) {
    return apart(`This laptop does not have the address ${via} now: plug that adapter in, or choose another.`)
  }
  const near = used.filter(one => contains(one, node))
  if (near.length === 0) return apart(different(used, node))
  if (near.some(one => broadcastOf(one) === node && one.netmask !== '255.255.255.255')) {
    return apart(`${node} is the address of everybody on ${nameOf(near[0]!)}: give the node’s own address.`)
  }
  return near.length > 1 ? { state: 'choice', says: whichOf(near) } : NEAR
}

/** Interfaces as a person reads them: "This laptop is 2.0.0.1 on eth0 (cable)". Loopback is left out. */
export function laptopSays(interfaces: readonly LocalInterface[]): string {
  const outside = interfaces.filter(one => !isLoopback(one.address))
  if (outside.length === 0) return 'This laptop is on no network: no cable is in, and no Wi-Fi is joined.'
  return `This laptop is ${outside.map(here).join(' and ')}.`
}

/** "eth0 (cable)"; the bare name where it tells nothing. */
export function nameOf({ name }: LocalInterface): string {
  const link = linkOf(name)
  return link === null || link === name ? name : `${name} (${link})`
}

const here = (one: LocalInterface): string =>
  `${one.address} on ${nameOf(one)}${isSelfAssigned(one.address) ? ', where no router gave it an address' : ''}`

function different(used: readonly LocalInterface[], node: string): string {
  const mask = usualMask(node)
  const laptop = isSelfAssigned(node)
    ? 'Let the laptop take its address by itself'
    : `Give the laptop an address that begins with ${prefixOf(node, mask)}, mask ${mask}`
  const own = used.find(one => !isSelfAssigned(one.address)) ?? used[0]!
  const begins = prefixOf(own.address, own.netmask)
  const other = begins === '' ? '.' : `, or set the node to one that begins with ${begins}`
  return `This laptop is ${used.map(here).join(' and ')}; the node is ${node}: different networks. ${laptop}${other}`
}

/** Both are on the node's network: a cable is surer than Wi-Fi, which the audience's phones share (common practice, no source). */
function whichOf(near: readonly LocalInterface[]): string {
  const names = near.map(one => `${one.address} on ${nameOf(one)}`).join(' and ')
  const cable = near.find(one => linkOf(one.name) === 'cable')
  const wireless = near.some(one => linkOf(one.name) === 'Wi-Fi')
  const advice =
    cable && wireless ? `Choose ${cable.address}: the cable is surer.` : 'Choose the one the node is on.'
  return `This laptop is twice on the node’s network: ${names}. ${advice}`
}

/**
 * The mask that a node at this address most likely has: 255.0.0.0 for 2.x and 10.x (Art-Net 4, IP address
 * configuration), 255.255.0.0 for 169.254.x (RFC 3927), else 255.255.255.0 (common practice, no source).
 */
function usualMask(node: string): string {
  if (node.startsWith('2.') || node.startsWith('10.')) return '255.0.0.0'
  return isSelfAssigned(node) ? '255.255.0.0' : '255.255.255.0'
}
