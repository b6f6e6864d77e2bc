// IPv4 as this laptop has it: its addresses with their masks, and which of them share a network with another address.

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

/** 127.0.0.0/8 never leaves the computer (RFC 1122 3.2.1.3). */
export const isLoopback = (address: string): boolean => address.startsWith('127.')

/** 169.254.0.0/16 is what a computer gives itself when nothing on the cable gives it an address (RFC 3927). */
export const isSelfAssigned = (address: string): boolean => address.startsWith('169.254.')

/** Whether an address lies in an interface's network, bit by bit of the mask (RFC 950). */
export function contains({ address, netmask }: LocalInterface, other: string): boolean {
  const mask = toNumber(netmask)
  // >>> keeps 32-bit masks unsigned.
  return (toNumber(address) & mask) >>> 0 === (toNumber(other) & mask) >>> 0
}

/** The address that reaches everybody on an interface's network (RFC 919). */
export const broadcastOf = ({ address, netmask }: LocalInterface): string =>
  toText((toNumber(address) | ~toNumber(netmask)) >>> 0)

/** The first octets of an address that its mask covers whole, as a person reads them: "192.168.1.", "2.". */
export function prefixOf(address: string, netmask: string): string {
  const whole = netmask.split('.').filter(octet => octet === '255').length
  return `${address.split('.').slice(0, whole).join('.')}${whole > 0 && whole < 4 ? '.' : ''}`
}

/** The broadcast address of each interface's network, each once, never loopback. */
export function directedBroadcasts(interfaces: readonly LocalInterface[]): string[] {
  return [...new Set(interfaces.filter(one => !isLoopback(one.address)).map(broadcastOf))]
}

/**
 * What an interface's name tells of it; null where it tells nothing (as en0 of a Mac does).
 * Names from memory: Linux with systemd (en…, wl…) and without (eth…, wlan…), Windows (Ethernet, Wi-Fi, WLAN).
 */
export function linkOf(name: string): 'cable' | 'Wi-Fi' | null {
  if (/^(wl|wi-?fi)/i.test(name)) return 'Wi-Fi'
  return /^(eth|en[opsx])/i.test(name) ? 'cable' : null
}
