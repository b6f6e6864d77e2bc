// One UDP socket to a place: opens at once, reports what fails or does not leave, and opens again when its interface comes back.

import { createSocket, type Socket } from 'node:dgram'
import type { Destination } from './packet.ts'

/** A socket that failed is opened anew at most this often, ms. */
const REOPEN = 500
/** Routers that a multicast packet may pass. Common practice, no source: enough for a house, not for the internet. */
const MULTICAST_TTL = 16
/** Asked of the system (it may give less), so that a frame of hundreds of universes fits, octets. */
const SEND_BUFFER = 1 << 20

/**
 * Packets that the system may hold back before a frame: as many as the largest output has. More, or none that left for
 * so long (ms), and the frame is dropped: it would fill the memory, and come out as a burst of old light.
 */
const MOST_WAITING = 1024
const STUCK_MS = 250
const stuck: Error = Object.assign(new Error('packets wait and do not leave'), { code: 'STUCK' })

/**
 * Addresses are numbers already: answering the socket's name look-up at once makes bind and send happen within the call,
 * with no turn of the event loop. A connected socket would do that too, but on Linux it fails every other send while no
 * one listens at the far end.
 */
const asItIs = (
  address: string,
  _options: unknown,
  done: (error: null, address: string, family: number) => void,
) => done(null, address, 4)

export class Link {
  readonly #via: string | undefined
  readonly #multicast: boolean
  #socket: Socket | null = null
  #fault: Error | null = null
  #openedAt = 0
  /** The frame under way, by its time; whether it is dropped; and the last at which a packet left or none waited. */
  #frame = Number.NaN
  #isStuck = false
  #leftAt = 0

  /** Opens at once; a failure is reported by the sends that follow. `now` in ms. */
  constructor({ via, multicast }: Destination, now: number) {
    this.#via = via
    this.#multicast = multicast
    this.#open(now)
  }

  /** Sends one packet now. `done` is told the outcome, at the latest when the event loop turns. Never throws. */
  send(bytes: Uint8Array, to: Destination, now: number, done: (error: Error | null) => void): void {
    if (this.#fault && now - this.#openedAt >= REOPEN) this.#open(now)
    if (!this.#socket) {
      done(this.#fault)
      return
    }
    if (now !== this.#frame) this.#look(this.#socket, now)
    if (this.#isStuck) return done(stuck)
    try {
      // A full system queue delays the packet; it then leaves with the newest bytes of its universe, which is as well.
      this.#socket.send(bytes, to.port, to.host, done)
    } catch (error) {
      done(error as Error)
    }
  }

  /** Told of every outcome: a failure makes the next send open a new socket. */
  note(error: Error | null): void {
    if (error === stuck) return
    this.#leftAt = this.#frame
    this.#fault = error
  }

  /** Whether the system still holds packets back. */
  get waiting(): boolean {
    return (this.#socket?.getSendQueueCount() ?? 0) > 0
  }

  close(): void {
    this.#socket?.close()
    this.#socket = null
  }

  #look(socket: Socket, now: number): void {
    this.#frame = now
    const waiting = socket.getSendQueueCount()
    if (waiting === 0) this.#leftAt = now
    this.#isStuck = waiting > MOST_WAITING || now - this.#leftAt >= STUCK_MS
  }

  #open(now: number): void {
    this.close()
    this.#openedAt = this.#leftAt = now
    this.#fault = null
    const socket = createSocket({ type: 'udp4', lookup: asItIs as never })
    socket.on('error', error => {
      this.#fault = error
    })
    try {
      socket.bind({ address: this.#via ?? '0.0.0.0', port: 0, exclusive: true })
      if (!this.#fault && this.#multicast) {
        socket.setMulticastTTL(MULTICAST_TTL)
        // Linux takes the interface of the bound address by itself; other systems need to be told.
        if (this.#via !== undefined) socket.setMulticastInterface(this.#via)
      }
      if (!this.#fault) socket.setSendBufferSize(SEND_BUFFER)
    } catch (error) {
      this.#fault = error as Error
    }
    if (this.#fault) socket.close()
    else this.#socket = socket
  }
}
