// Messages over TCP between the two laptops: each behind its length; in clear while they greet, then AES-256-GCM.

import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto'
import type { Socket } from 'node:net'

/** Greetings are small; what is behind the secret may be a show, or a piece of a recording. */
const MOST_CLEAR = 4096
const MOST_SEALED = 256 * 1024 * 1024
const TAG = 16
const GREETING_OCTETS = 16

/** Both laptops answer within this, ms, or the connection ends. */
const PATIENCE = 10_000

/** One way through the connection: messages in order, each under a number of its own. */
interface Way {
  readonly key: Buffer
  next: bigint
}

export interface Wire {
  /** The next message; rejects when the connection ends, is slow, or what comes was not sealed by the partner. */
  take(): Promise<Buffer>
  send(message: Buffer): void
  /** From now on both ways are sealed (NIST SP 800-38D). `side` decides which key is which way's. */
  seal(secret: Buffer, side: 'asks' | 'answers', greetings: Buffer): void
  end(): void
}

export const greeting = (): Buffer => randomBytes(GREETING_OCTETS)

export function wireOver(socket: Socket): Wire {
  let parts: Buffer[] = []
  let have = 0
  let sealed: { in: Way; out: Way } | null = null
  let waiting: { resolve(message: Buffer): void; reject(error: Error): void } | null = null
  let gone: Error | null = null
  socket.setNoDelay(true)
  socket.setTimeout(PATIENCE, () => fail(new Error('the other laptop did not answer in time')))

  function fail(error: Error): void {
    gone ??= error
    socket.destroy()
    waiting?.reject(gone)
    waiting = null
  }
  socket.on('error', fail)
  socket.on('close', () => fail(new Error('the connection ended')))
  socket.on('data', chunk => {
    parts.push(chunk)
    have += chunk.length
    // Also when nothing is waited for: who was refused must not fill the memory of an engine.
    if (have > 4 + most()) fail(new Error('too much at once'))
    else deliver()
  })
  const most = (): number => (sealed ? MOST_SEALED : MOST_CLEAR)

  function deliver(): void {
    if (!waiting || have < 4) return
    if (parts[0]!.length < 4) parts = [Buffer.concat(parts)]
    const size = parts[0]!.readUInt32BE(0)
    if (size > most()) return fail(new Error('too long a message'))
    if (have < 4 + size) return
    const all = Buffer.concat(parts)
    const body = all.subarray(4, 4 + size)
    parts = [all.subarray(4 + size)]
    have = parts[0]!.length
    try {
      const message = sealed ? opened(sealed.in, body) : Buffer.from(body)
      const { resolve } = waiting
      waiting = null
      resolve(message)
    } catch {
      fail(new Error('it is not from the laptop that this one is paired with'))
    }
  }

  return {
    take() {
      return new Promise((resolve, reject) => {
        waiting = { resolve, reject }
        // What came before the end is still worth reading.
        deliver()
        if (gone) fail(gone)
      })
    },
    send(message) {
      const body = sealed ? closed(sealed.out, message) : message
      const head = Buffer.alloc(4)
      head.writeUInt32BE(body.length)
      socket.write(Buffer.concat([head, body]))
    },
    seal(secret, side, greetings) {
      const keyOf = (way: string) => Buffer.from(hkdfSync('sha256', secret, greetings, way, 32))
      const [asks, answers] = [keyOf('glowchart asks'), keyOf('glowchart answers')]
      const [out, into] = side === 'asks' ? [asks, answers] : [answers, asks]
      sealed = { in: { key: into, next: 0n }, out: { key: out, next: 0n } }
    },
    end: () => socket.end(),
  }
}

/** The message's number as 96 bits: never used twice under one key, as keys are made for each connection. */
function numberOf(way: Way): Buffer {
  const iv = Buffer.alloc(12)
  iv.writeBigUInt64BE(way.next++, 4)
  return iv
}

function closed(way: Way, message: Buffer): Buffer {
  const cipher = createCipheriv('aes-256-gcm', way.key, numberOf(way))
  return Buffer.concat([cipher.update(message), cipher.final(), cipher.getAuthTag()])
}

function opened(way: Way, body: Buffer): Buffer {
  if (body.length < TAG) throw new Error('short')
  const cipher = createDecipheriv('aes-256-gcm', way.key, numberOf(way), { authTagLength: TAG })
  cipher.setAuthTag(body.subarray(-TAG))
  return Buffer.concat([cipher.update(body.subarray(0, -TAG)), cipher.final()])
}
