// The house's sACN on the network: one UDP socket, its multicast group on every network this laptop is on, asked again.

import { createSocket, type Socket } from 'node:dgram'
import { networkInterfaces } from 'node:os'
import { decodeE131, type E131, multicastGroup } from '../output/e131.ts'

/** A port that cannot be had, and a group on a network that came later, are tried again so often, ms. */
const RETRY = 2000

export interface SacnEar {
  /** Why nothing can be heard, in plain words; empty when all is well. */
  readonly fault: string
  close(): void
}

/** @param hear called with every E1.31 packet that comes, and its sender's address */
export function hearSacn(
  { universe, port }: { universe: number; port: number },
  hear: (packet: E131, from: string) => void,
): SacnEar {
  const group = multicastGroup(universe)
  let fault = ''
  let socket: Socket | null = null
  let timer: NodeJS.Timeout | undefined

  /** A cable that is plugged in later, or again, is a new interface: the group is asked for on it too. */
  const join = (): void => {
    for (const address of localAddresses()) {
      try {
        socket?.addMembership(group, address)
      } catch {
        // It is a member there already, or the interface does no multicast: unicast is heard all the same.
      }
    }
  }

  const open = (): void => {
    // Other sACN programs on this laptop may listen too.
    const fresh = createSocket({ type: 'udp4', reuseAddr: true })
    socket = fresh
    fresh.on('message', (bytes, { address }) => {
      const packet = decodeE131(bytes)
      if (packet) hear(packet, address)
    })
    fresh.on('listening', () => {
      fault = ''
      join()
      timer = setInterval(join, RETRY).unref()
    })
    fresh.on('error', error => {
      if (socket !== fresh) return
      close()
      fault = `The house cannot be heard: listening on UDP ${port} failed (${(error as NodeJS.ErrnoException).code}).`
      timer = setTimeout(open, RETRY).unref()
    })
    fresh.bind(port, '0.0.0.0')
  }

  const close = (): void => {
    // A timeout and an interval are cleared alike.
    clearTimeout(timer)
    socket?.close()
    socket = null
  }

  open()
  return {
    get fault() {
      return fault
    },
    close,
  }
}

/** This laptop's IPv4 addresses. */
export const localAddresses = (): string[] =>
  Object.values(networkInterfaces()).flatMap(all =>
    (all ?? []).filter(one => one.family === 'IPv4').map(one => one.address),
  )
