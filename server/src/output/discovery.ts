// Finds Art-Net nodes: the one owner of UDP 6454, asking while asked to, and listing who answers and who is silent.

import { createSocket, type RemoteInfo, type Socket } from 'node:dgram'
import { once } from 'node:events'
import type { Network } from '@glowchart/shared/messages.ts'
import { contains, directedBroadcasts, type LocalInterface } from '@glowchart/shared/network/ipv4.ts'
import {
  ARTNET_PORT,
  type ArtDmx,
  artPoll,
  artPollReply,
  decodeArtDmx,
  decodeArtPollReply,
  isArtPoll,
} from './artnet.ts'
import { ANSWER_TIME, type Host, NodeBook } from './node-book.ts'

/** Art-Net 4, ArtPoll: a controller asks every 2.5 to 3 s. */
const POLL_INTERVAL = 2_750
/** Polls that one wish asks for: a packet of one may be lost. */
const POLLS = 3
/** Nodes answer all at once, and older ones answer to everybody whoever asked: what they say is told at most so often, ms. */
const TELL_EVERY = 250

export interface DiscoveryOptions {
  /** Local address to listen on; left out: all. */
  bind?: string
  /** UDP port of the listener. */
  port?: number
  /** This computer's IPv4 addresses, asked for anew at each poll: cables come and go. */
  interfaces: () => readonly LocalInterface[]
  /** Where polls to whole networks go; left out: the directed broadcast address of each interface. */
  targets?: readonly Host[]
  /** Called at each poll, and when the list has changed. */
  onNetwork: (network: Network) => void
  /** Called with every ArtDmx that comes, and its sender's address: this listener is the one owner of its port. */
  onArtDmx?: (packet: ArtDmx, from: string) => void
  /** The Port-Address that this laptop takes, asked when a controller polls; null: none, and nothing is answered. */
  takes?: () => number | null
  /** Ms of a monotonic clock. */
  clock?: () => number
}

/** What is asked for: all networks, and single addresses (a broadcast does not reach every node). */
export interface Wish {
  everywhere: boolean
  hosts: readonly Host[]
}

export interface Discovery {
  /** The UDP port in use; 0 when none could be had. */
  readonly port: number
  /** Why the right port is not had, in plain words; empty when it is. */
  readonly fault: string
  /** Polls now and twice more; asked again meanwhile, it goes on for three more. */
  ask(wish: Wish): void
  network(): Network
  close(): Promise<void>
}

/**
 * Never rejects. When another program holds the port it listens on another one, where nodes that answer to the port
 * they were asked from are still heard; `says` of the network tells of it, and each wish tries the right port again.
 */
export async function openDiscovery(options: DiscoveryOptions): Promise<Discovery> {
  const { port = ARTNET_PORT, interfaces, onNetwork, clock = () => performance.now() } = options
  const book = new NodeBook()
  const poll = artPoll()
  let socket: Socket | null = null
  /** Why the right port is not had; empty when it is. */
  let fault = ''
  let sendFault = ''
  /** Polls still to be made. */
  let everywhere = 0
  const hosts = new Map<string, Host & { left: number }>()
  let pollTimer: NodeJS.Timeout | undefined
  let opening: Promise<void> | null = null
  let closed = false
  const strikes = new Set<NodeJS.Timeout>()

  const network = (): Network => ({
    interfaces: [...interfaces()],
    nodes: book.list(),
    says: [fault, sendFault].filter(text => text !== '').join(' '),
  })
  const report = () => onNetwork(network())
  let toldAt = Number.NEGATIVE_INFINITY
  let telling: NodeJS.Timeout | undefined
  const tell = (): void => {
    telling = undefined
    toldAt = clock()
    report()
  }
  const tellOfAnswer = (): void => {
    if (telling !== undefined) return
    const wait = toldAt + TELL_EVERY - clock()
    if (wait > 0) telling = setTimeout(tell, wait)
    else tell()
  }

  /** Our own polls come back by broadcast: they are not answered. */
  const answer = (socket: Socket, from: RemoteInfo): void => {
    const portAddress = options.takes?.() ?? null
    const all = interfaces()
    if (portAddress === null || all.some(one => one.address === from.address)) return
    const own = all.find(one => contains(one, from.address))?.address ?? socket.address().address
    socket.send(artPollReply(own, portAddress), from.port, from.address, () => {})
  }

  const listenOn = async (wanted: number): Promise<Socket> => {
    const fresh = createSocket({ type: 'udp4' })
    try {
      fresh.bind({ address: options.bind ?? '0.0.0.0', port: wanted, exclusive: true })
      await once(fresh, 'listening')
    } catch (error) {
      fresh.close()
      throw error
    }
    fresh.setBroadcast(true)
    fresh.on('error', () => {})
    fresh.on('message', (bytes, from) => {
      const reply = decodeArtPollReply(bytes)
      if (!reply) {
        if (isArtPoll(bytes)) return answer(fresh, from)
        const dmx = options.onArtDmx && decodeArtDmx(bytes)
        if (dmx) options.onArtDmx?.(dmx, from.address)
        return
      }
      book.answered(from.address, reply, clock())
      tellOfAnswer()
    })
    return fresh
  }

  const open = async () => {
    try {
      const right = await listenOn(port)
      socket?.close()
      socket = right
      fault = ''
    } catch (error) {
      fault = explainBind(error, port)
      socket ??= await listenOn(0).catch(() => null)
    }
  }

  const pollOnce = () => {
    pollTimer = undefined
    if (!socket || closed) return report()
    sendFault = ''
    const all = everywhere > 0
    const broadcasts = () => directedBroadcasts(interfaces()).map(address => ({ address, port: ARTNET_PORT }))
    const wide = all ? (options.targets ?? broadcasts()) : []
    const single = [...hosts.values()]
    for (const { address, port: to } of [...wide, ...single]) {
      socket.send(poll, to, address, error => {
        if (!error) return
        sendFault = `Asking for nodes at ${address} failed (${(error as NodeJS.ErrnoException).code}).`
      })
    }
    book.asked(clock(), all, [...(options.targets && all ? options.targets : []), ...single])
    report()
    // Polls are less than the answer time apart, so each has its own strike.
    const timer = setTimeout(() => {
      strikes.delete(timer)
      if (book.strike(clock())) report()
    }, ANSWER_TIME + 10)
    strikes.add(timer)
    everywhere = Math.max(0, everywhere - 1)
    for (const [key, host] of hosts) if (--host.left === 0) hosts.delete(key)
    if (everywhere > 0 || hosts.size > 0) pollTimer = setTimeout(pollOnce, POLL_INTERVAL)
  }

  await open()
  return {
    get port() {
      return socket?.address().port ?? 0
    },
    get fault() {
      return fault
    },
    ask(wish) {
      if (wish.everywhere) everywhere = POLLS
      for (const host of wish.hosts) hosts.set(`${host.address}:${host.port}`, { ...host, left: POLLS })
      if (pollTimer !== undefined || opening) return
      if (fault === '') return pollOnce()
      opening = open().then(() => {
        opening = null
        pollOnce()
      })
    },
    network,
    async close() {
      closed = true
      await opening
      clearTimeout(pollTimer)
      clearTimeout(telling)
      for (const timer of strikes) clearTimeout(timer)
      if (!socket) return
      const closing = socket
      socket = null
      closing.close()
      await once(closing, 'close')
    },
  }
}

function explainBind(error: unknown, port: number): string {
  const code = (error as NodeJS.ErrnoException).code
  if (code === 'EADDRINUSE')
    return `Another program on this laptop uses UDP ${port}, so some nodes cannot be heard: close it.`
  if (code === 'EADDRNOTAVAIL') return 'The network adapter chosen for finding nodes is not there now.'
  if (code === 'EACCES') return `This laptop does not let Glowchart listen on UDP ${port}.`
  return `Nodes cannot be heard: listening on UDP ${port} failed (${code}).`
}
