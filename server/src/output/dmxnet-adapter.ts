// Art-Net through the dmxnet library, held so that it sends what it is told, when it is told, and nothing else.

import type { Socket } from 'node:dgram'
import { splitPortAddress } from '@glowchart/shared/network/port-address.ts'
import type { dmxnet, sender } from 'dmxnet'
import type { ArtDmxSource, ArtDmxSources } from './artnet-stream.ts'

const SLOTS = 512
/** Where dmxnet is told to listen; its listener is closed before it binds, so this port is never taken. */
const UNUSED_PORT = 6455
/** An address under which a new dmxnet sender waits for a socket before it sends. */
const WAITING = '255.255.255.255'

/**
 * Loads dmxnet and holds it: no listener, no announcements, no timers, no log.
 * Version 0.9.0 would listen on UDP 6454 of every interface, announce itself by broadcast on all of them, log to the
 * console, and keep a timer without a handle.
 */
export async function loadDmxnet(): Promise<ArtDmxSources> {
  const library = await import('dmxnet')
  const held = withoutTimers(
    () =>
      new library.dmxnet({
        listen: UNUSED_PORT,
        hosts: ['none'],
        log: { silent: true, transports: [] },
        sName: 'Glowchart',
      }),
  )
  closeForGood(held.listener4)
  closeForGood(held.socket)
  // It builds a hex dump for every packet it logs; nothing takes the text, so give it a logger that does nothing at all.
  const silent = () => held.logger
  held.logger = {
    info: silent,
    verbose: silent,
    debug: silent,
    silly: silent,
  } as unknown as typeof held.logger
  return (to, portAddress, firstSequence) =>
    new DmxnetSource(held, to.host, to.port, portAddress, firstSequence)
}

class DmxnetSource implements ArtDmxSource {
  readonly #sender: sender
  #packet: Uint8Array = new Uint8Array()

  constructor(held: dmxnet, host: string, port: number, portAddress: number, firstSequence: number) {
    const { net, subNet, universe } = splitPortAddress(portAddress)
    // A sender made for a node's address sends an all-zero frame from its constructor. Made for broadcast it first waits
    // for its socket to bind: it is given another socket, and only then the node's address and leave to send.
    this.#sender = withoutTimers(() => held.newSender({ net, subnet: subNet, universe, port, ip: WAITING }))
    closeForGood(this.#sender.socket)
    // Its own callback throws on a send error, out of reach; so the socket it gets keeps the packet for
    // ours, which counts what fails, and calls nothing.
    const keep = (packet: Uint8Array) => {
      this.#packet = packet
    }
    this.#sender.socket = { send: keep } as unknown as Socket
    this.#sender.ip = host
    this.#sender.ArtDmxSeq = firstSequence
    this.#sender.socket_ready = true
  }

  next(levels: Uint8Array, offset: number): Uint8Array {
    // `values` must stay a plain array of exactly 512 numbers: it is appended to the header with concat().
    const { values } = this.#sender
    for (let i = 0; i < SLOTS; i++) values[i] = levels[offset + i]!
    this.#sender.transmit()
    return this.#packet
  }

  get sequence(): number {
    const next = this.#sender.ArtDmxSeq
    return next > 255 ? 1 : next
  }
}

/** Closes a socket before its pending bind completes, so that it never takes a port; its errors have no one to tell. */
function closeForGood(socket: Socket): void {
  socket.removeAllListeners('error')
  socket.on('error', () => {})
  socket.close()
}

/** Runs `make` and clears every interval it started: dmxnet keeps no handle of one, and paces sends by the other. */
function withoutTimers<T>(make: () => T): T {
  const start = globalThis.setInterval
  const started: NodeJS.Timeout[] = []
  globalThis.setInterval = ((...args: Parameters<typeof start>) => {
    const timer = start(...args)
    started.push(timer)
    return timer
  }) as typeof start
  try {
    return make()
  } finally {
    globalThis.setInterval = start
    for (const timer of started) clearInterval(timer)
  }
}
