// Why a packet did not leave, in plain words for a screen on a dark stage.

import type { Destination } from './packet.ts'

/** One sentence or two: what happened and what to look at. */
export function explainSendError(error: unknown, to: Destination): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  const from = to.via === undefined ? 'this computer' : to.via
  switch (code) {
    case 'ENETUNREACH':
      return `No way from ${from} to ${to.host}: the cable is out, or the network adapter is off or on another network.`
    case 'EHOSTUNREACH':
      return `${to.host} does not answer on the network: check that the node is on, its cable and its address.`
    case 'EADDRNOTAVAIL':
    case 'EINVAL':
    case 'ENODEV':
      return `This computer has no network address ${from === 'this computer' ? 'to send from' : from} now: plug the adapter in, or choose another one.`
    case 'ENETDOWN':
      return `The network adapter is down: check the cable and that the adapter is on.`
    case 'EACCES':
      return `${to.host} is a broadcast address: give the address of the node itself.`
    case 'EPERM':
      return `This computer's firewall does not let packets go to ${to.host}.`
    case 'STUCK':
      return `Packets to ${to.host} wait in this computer and do not leave: check the cable, the switch, the Wi-Fi.`
    case 'ENOBUFS':
    case 'ENOMEM':
      return 'The network adapter cannot keep up: lower the frame rate or send fewer universes.'
    default:
      return `Sending to ${to.host} failed${code === '' ? '' : ` (${code})`}.`
  }
}
