// How the second laptop finds the first: the first announces itself on one network, the second listens for a while.

import { createSocket, type Socket } from 'node:dgram'
import { broadcastOf, type LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import { type Announcement, announcementSchema } from '@glowchart/shared/understudy/channel.ts'
import type { FoundLaptop } from '@glowchart/shared/understudy/status.ts'

/**
 * A group of the local scope, 239.255.0.0/16 (RFC 2365), that no sACN universe has: E1.31-2018 9.3.1 uses
 * 239.255.hi.lo for universes up to 63999 (hi 249) and 64214 (hi 250).
 */
const GROUP = '239.255.254.77'
const EVERY_MS = 1000
const MOST_FOUND = 16
const SEARCH_LASTS = 60_000

/** Tells the network once a second, to the group and, as some switches keep groups back, to everybody. */
export function announce(socket: Socket, own: Announcement, at: LocalInterface): { stop(): void } {
  const bytes = Buffer.from(JSON.stringify(own))
  const tell = (): void => {
    for (const to of [GROUP, broadcastOf(at)]) socket.send(bytes, own.port, to, () => {})
  }
  try {
    socket.setBroadcast(true)
    socket.setMulticastTTL(1)
    socket.setMulticastInterface(at.address)
  } catch {
    // The adapter is gone: the sends say so to nobody, and the port is opened anew when it is back.
  }
  tell()
  const timer = setInterval(tell, EVERY_MS)
  return { stop: () => clearInterval(timer) }
}

export interface LaptopSearch {
  /** Found so far; null while nothing is searched for. */
  readonly found: readonly FoundLaptop[] | null
  /** Listens for a minute. */
  start(): void
  end(): void
}

export function laptopSearch(
  port: number,
  ownId: string,
  interfaces: () => readonly LocalInterface[],
): LaptopSearch {
  const known = new Map<string, FoundLaptop>()
  let socket: Socket | null = null
  let ending: NodeJS.Timeout | undefined

  function end(): void {
    clearTimeout(ending)
    socket?.close()
    socket = null
    known.clear()
  }

  return {
    get found() {
      return socket && [...known.values()]
    },
    start() {
      end()
      const opened = createSocket({ type: 'udp4', reuseAddr: true })
      socket = opened
      ending = setTimeout(end, SEARCH_LASTS)
      // The port is another program's: then nobody is found, and an address can still be typed.
      opened.on('error', end)
      opened.on('message', (bytes, from) => {
        const told = readAnnouncement(bytes)
        if (!told || told.id === ownId || (known.size >= MOST_FOUND && !known.has(told.id))) return
        known.set(told.id, { id: told.id, name: told.name, address: from.address, port: told.port })
      })
      opened.bind({ port, exclusive: false }, () => {
        for (const { address } of interfaces()) {
          try {
            opened.addMembership(GROUP, address)
          } catch {
            // An adapter without multicast: its broadcasts still come.
          }
        }
      })
    },
    end,
  }
}

/** Null for anything else. From a stranger, and on its way to a screen: control characters are taken out. */
export function readAnnouncement(bytes: Buffer): Announcement | null {
  if (bytes.length > 512) return null
  try {
    const told = announcementSchema.parse(JSON.parse(bytes.toString()))
    const name = told.name.replace(/\p{Cc}/gu, '').trim()
    return name === '' ? null : { ...told, name }
  } catch {
    return null
  }
}
