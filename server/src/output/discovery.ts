// Finds Art-Net nodes: the one owner of UDP 6454, asking while asked to, and listing who answers.

import { createSocket, type Socket } from 'node:dgram'
import { once } from 'node:events'
import type { FoundNode } from '@glowchart/shared/messages.ts'
import { ARTNET_PORT, artPoll, decodeArtPollReply } from './artnet.ts'
import { ANSWER_TIME, NodeBook } from './node-book.ts'
import { directedBroadcasts, type LocalInterface } from './reachability.ts'

/** Art-Net 4, ArtPoll: a controller asks every 2.5 to 3 s. */
const POLL_INTERVAL = 2_750
/** Polls that one press asks for: a packet of one may be lost. */
const POLLS = 3

export interface DiscoveryOptions {
  /** Local address to listen on; left out: all. */
  bind?: string
  /** UDP port of the listener and, unless a target says otherwise, of the nodes. */
  port?: number
  /** This computer's IPv4 addresses, asked for anew at each poll: cables come and go. */
  interfaces: () => readonly LocalInterface[]
  /** Where polls go; left out: the directed broadcast address of each interface. */
  targets?: readonly { address: string; port?: number }[]
  /** Called when the list has changed. */
  onNodes: (nodes: FoundNode[]) => void
  /** Ms of a monotonic clock. */
  clock?: () => number
}

export interface Discovery {
  /** The UDP port in use; 0 when it could not be had. */
  readonly port: number
  /** Why there is no discovery or a poll did not leave, in plain words; empty when all is well. */
  says(): string
  /** Polls now and twice more; called again meanwhile, it goes on for three more. */
  ask(): void
  nodes(): FoundNode[]
  close(): Promise<void>
}

/** Never rejects: when the port cannot be had, `says` tells why and `ask` tries again. */
export async function openDiscovery(options: DiscoveryOptions): Promise<Discovery> {
  const { port = ARTNET_PORT, interfaces, onNodes, clock = () => performance.now() } = options
  const book = new NodeBook()
  const poll = artPoll()
  let socket: Socket | null = null
  let says = ''
  let left = 0
  let opening: Promise<void> | null = null
  let pollTimer: NodeJS.Timeout | undefined
  const strikes = new Set<NodeJS.Timeout>()

  const report = () => onNodes(book.list(interfaces()))

  const open = async () => {
    const fresh = createSocket({ type: 'udp4' })
    try {
      fresh.bind({ address: options.bind ?? '0.0.0.0', port, exclusive: true })
      await once(fresh, 'listening')
      fresh.setBroadcast(true)
    } catch (error) {
      fresh.close()
      says = explainBind(error, port)
      return
    }
    fresh.on('error', () => {})
    fresh.on('message', (bytes, from) => {
      const reply = decodeArtPollReply(bytes)
      if (!reply) return
      book.answered(from.address, reply, clock())
      report()
    })
    says = ''
    socket = fresh
  }

  const pollOnce = () => {
    if (!socket) return
    const targets: DiscoveryOptions['targets'] =
      options.targets ?? directedBroadcasts(interfaces()).map(address => ({ address }))
    says = targets.length === 0 ? 'This computer is on no network: plug in the cable.' : ''
    for (const { address, port: to = ARTNET_PORT } of targets) {
      socket.send(poll, to, address, error => {
        if (error) says = `Asking for nodes at ${address} failed (${(error as NodeJS.ErrnoException).code}).`
      })
    }
    book.asked(clock())
    // Polls are less than the answer time apart, so each has its own strike.
    const timer = setTimeout(() => {
      strikes.delete(timer)
      if (book.strike(clock())) report()
    }, ANSWER_TIME + 10)
    strikes.add(timer)
    left--
    pollTimer = left > 0 ? setTimeout(pollOnce, POLL_INTERVAL) : undefined
  }

  await open()
  return {
    get port() {
      return socket?.address().port ?? 0
    },
    says: () => says,
    ask() {
      left = POLLS
      if (pollTimer !== undefined || opening) return
      if (socket) pollOnce()
      else {
        opening = open().then(() => {
          opening = null
          pollOnce()
        })
      }
    },
    nodes: () => book.list(interfaces()),
    async close() {
      await opening
      clearTimeout(pollTimer)
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
    return `Another program on this computer uses UDP ${port}, so nodes cannot be found; close it and try again.`
  if (code === 'EADDRNOTAVAIL') return 'The network adapter chosen for finding nodes is not there now.'
  if (code === 'EACCES') return `This computer does not let Glowchart listen on UDP ${port}.`
  return `Nodes cannot be found: listening on UDP ${port} failed (${code}).`
}
