// The pair's UDP socket: authenticated datagrams of a partner that is alive now, each once; and what answers them.

import { randomBytes } from 'node:crypto'
import { createSocket, type Socket } from 'node:dgram'
import { type Told, toldSchema } from '@glowchart/shared/understudy/beat.ts'
import { NONCE_OCTETS, openDatagram, replayGuard, sealDatagram } from './datagram.ts'

/** An answer to one that does not show it is alive is sent at most this often, ms. */
const HELLO_EVERY = 20

export interface PairSocket {
  readonly socket: Socket
  /** Ours, made when this process began; the partner's, once it is known. */
  readonly nonce: Buffer
  readonly challenge: Buffer
  send(told: Told, to: { address: string; port: number }): void
  close(): void
}

export interface PairSocketOptions {
  via: string
  port: number
  now: () => number
  /** The pair's secret; null while there is no pair. */
  key(): Buffer | null
  partnerPort(): number
  /** `at`: when it came, ms. */
  heard(told: Told, from: { address: string }, at: number): void
  /** The partner's nonce is another one: it was started anew. */
  greeted(): void
  failed(error: Error): void
}

export function openPairSocket(options: PairSocketOptions): PairSocket {
  const { via, port, now } = options
  const stream = randomBytes(8)
  const nonce = randomBytes(NONCE_OCTETS)
  let challenge: Buffer = Buffer.alloc(NONCE_OCTETS)
  let counter = 0n
  let helloAt = Number.NEGATIVE_INFINITY
  let takes = replayGuard()
  let keyBefore: Buffer | null = null
  const socket = createSocket({ type: 'udp4' })
  socket.on('error', options.failed)
  socket.bind({ address: via, port, exclusive: true })

  const seal = (key: Buffer, told: Told, to: Buffer): Buffer =>
    sealDatagram(key, { stream, counter: ++counter, nonce, challenge: to }, told)

  socket.on('message', (bytes, from) => {
    // Before it is unpacked: the other's frames are counted from when it came.
    const at = now()
    const key = options.key()
    if (!key) return
    if (key !== keyBefore) takes = replayGuard()
    keyBefore = key
    const opened = openDatagram(key, bytes)
    if (!opened) return
    if (!opened.challenge.equals(nonce)) {
      // Authentic, but perhaps heard long ago and sent again by somebody: asked to show that it is now.
      if (at - helloAt < HELLO_EVERY) return
      helloAt = at
      socket.send(seal(key, { kind: 'hello' }, opened.nonce), options.partnerPort(), from.address, () => {})
      return
    }
    if (!takes(opened)) return
    if (!opened.nonce.equals(challenge)) {
      challenge = opened.nonce
      options.greeted()
    }
    const told = toldSchema.safeParse(opened.value)
    if (told.success) options.heard(told.data, from, at)
  })

  return {
    socket,
    nonce,
    get challenge() {
      return challenge
    },
    send(told, to) {
      const key = options.key()
      if (key) socket.send(seal(key, told, challenge), to.port, to.address, () => {})
    },
    close: () => socket.close(),
  }
}
