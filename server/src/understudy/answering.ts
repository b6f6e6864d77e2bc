// The laptop that is followed, asked over TCP: it pairs with who knows the code, and hands its show to its partner.

import { createServer, type Server, type Socket } from 'node:net'
import { type Greeting, greetingSchema, wishSchema } from '@glowchart/shared/understudy/channel.ts'
import { agree, pairingKey, sameBytes } from './pairing.ts'
import { greeting, type Wire, wireOver } from './wire.ts'

/** Wrong codes before a code is void: with 39 bits, a guess in about 10^11. */
const MOST_TRIES = 5
const MOST_CONNECTIONS = 8

export interface NewPartner {
  id: string
  name: string
  address: string
  port: number
  secret: Buffer
}

export interface AnsweringOptions {
  readonly id: string
  readonly name: string
  /** The code that counts now, plain; null when none does. */
  code(): string | null
  /** The code has been guessed at too often, or used. */
  spent(): void
  paired(partner: NewPartner): void
  /** The secret shared with a laptop; null when it is not the partner. */
  secretOf(id: string): Buffer | null
  /** What is played, as text; null while nothing is. */
  show(): string | null
  recording(file: string): Promise<Buffer | null>
}

/** Listens at once; errors of the port go to `failed`. */
export function answerAt(
  address: string,
  port: number,
  options: AnsweringOptions,
  failed: (error: Error) => void,
): Server {
  let tries = 0
  let counted: string | null = null
  const server = createServer(socket => {
    void serve(socket).catch(() => socket.destroy())
  })
  server.maxConnections = MOST_CONNECTIONS
  server.on('error', failed)
  server.listen({ host: address, port, exclusive: true })

  async function serve(socket: Socket): Promise<void> {
    const wire = wireOver(socket)
    const hello = greetingSchema.parse(JSON.parse(String(await wire.take())))
    if (hello.for === 'pair') await pair(wire, hello, socket.remoteAddress ?? '')
    else await hand(wire, hello)
  }

  async function pair(wire: Wire, hello: Extract<Greeting, { for: 'pair' }>, address: string): Promise<void> {
    const code = options.code()
    if (code === null) return refuse(wire, 'no code is shown there now')
    if (code !== counted) {
      counted = code
      tries = 0
    }
    // Counted before it is judged: nobody gains a try by hanging up.
    if (++tries >= MOST_TRIES) options.spent()
    const own = pairingKey()
    const salt = greeting()
    wire.send(
      toBytes({
        id: options.id,
        name: options.name,
        key: own.open.toString('base64'),
        salt: salt.toString('base64'),
      }),
    )
    const { proofs, secret } = agree(own, Buffer.from(hello.key, 'base64'), 'first', code, salt)
    const proof = await wire.take()
    if (!sameBytes(proof, proofs.second)) return refuse(wire, 'the code is another one')
    options.spent()
    options.paired({ id: hello.id, name: hello.name, address, port: hello.port, secret })
    wire.send(proofs.first)
    wire.end()
  }

  async function hand(wire: Wire, hello: Extract<Greeting, { for: 'show' }>): Promise<void> {
    const secret = options.secretOf(hello.id)
    if (!secret) return refuse(wire, 'it is paired with another laptop')
    const own = greeting()
    wire.send(own)
    wire.seal(secret, 'answers', Buffer.concat([Buffer.from(hello.greeting, 'base64'), own]))
    for (;;) {
      const wish = wishSchema.parse(JSON.parse(String(await wire.take())))
      const found = wish.get === 'show' ? options.show() : await options.recording(wish.file)
      wire.send(found === null ? Buffer.alloc(0) : Buffer.from(found))
    }
  }
  return server
}

function refuse(wire: Wire, why: string): void {
  wire.send(toBytes({ refused: why }))
  wire.end()
}

const toBytes = (value: unknown): Buffer => Buffer.from(JSON.stringify(value))
