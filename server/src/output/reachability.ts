// Whether a node can be reached from this computer's networks, and if not why, in plain words. Pure.

/** One IPv4 address of this computer. */
export interface LocalInterface {
  name: string
  address: string
  netmask: string
}

function toNumber(address: string): number {
  return address.split('.').reduce((sum, octet) => sum * 256 + Number(octet), 0)
}

function toText(address: number): string {
  return [24, 16, 8, 0].map(shift => (address >>> shift) & 255).join('.')
}

/** The network part of an address as a person reads it: 192.168.1.x, 2.x. */
function networkOf({ address, netmask }: LocalInterface): string {
  const whole = netmask.split('.').filter(octet => octet === '255').length
  return whole === 4 ? address : `${address.split('.').slice(0, whole).join('.')}${whole > 0 ? '.' : ''}x`
}

function contains({ address, netmask }: LocalInterface, node: string): boolean {
  const mask = toNumber(netmask)
  // >>> keeps 32-bit masks unsigned.
  return (toNumber(address) & mask) >>> 0 === (toNumber(node) & mask) >>> 0
}

/** An empty text when one of the interfaces is on the node's network; else what differs and what to do. */
export function reachability(interfaces: readonly LocalInterface[], node: string): string {
  if (interfaces.some(one => contains(one, node))) return ''
  const wired = interfaces.filter(one => !one.address.startsWith('127.'))
  if (wired.length === 0) return `This computer is on no network: plug in the cable to reach ${node}.`
  const here = wired.map(networkOf).join(' and ')
  const selfAssigned = wired.some(one => one.address.startsWith('169.254.'))
  const hint = selfAssigned
    ? ' (169.254.x is what a computer gives itself when nothing on the cable gives it an address)'
    : ''
  return `Different networks: this computer is on ${here}${hint}, the node is at ${node}. Give this computer an address on the node's network.`
}

/** The address that reaches every node on an interface's network (RFC 919): each interface once, never loopback. */
export function directedBroadcasts(interfaces: readonly LocalInterface[]): string[] {
  const addresses = interfaces
    .filter(one => !one.address.startsWith('127.'))
    .map(({ address, netmask }) => toText((toNumber(address) | ~toNumber(netmask)) >>> 0))
  return [...new Set(addresses)]
}
