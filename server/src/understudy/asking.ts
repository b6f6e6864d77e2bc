// The laptop that will follow asks over TCP: it pairs by the code its user typed, and fetches the show and its recordings.

import { connect, type Socket } from 'node:net'
import { CodedError } from '@glowchart/shared/errors.ts'
import { offerSchema } from '@glowchart/shared/understudy/channel.ts'
import { agree, pairingKey, sameBytes } from './pairing.ts'
import { greeting, type Wire, wireOver } from './wire.ts'

const CONNECT_MS = 3000

/** Who asks, and the port that its own heartbeats are taken at. */
export interface Asker {
  readonly id: string
  readonly name: string
  readonly port: number
}

export interface Paired {
  readonly id: string
  readonly name: string
  readonly secret: Buffer
  /** Our own address on the way to it. */
  readonly via: string
}

/** @throws CodedError `understudy.unreachable`, `understudy.code` */
export async function pairWith(address: string, port: number, code: string, own: Asker): Promise<Paired> {
  const place = `${address}:${port}`
  const { wire, socket } = await open(address, port)
  try {
    const key = pairingKey()
    wire.send(toBytes({ for: 'pair', ...own, key: key.open.toString('base64') }))
    const offer = offerSchema.parse(JSON.parse(String(await wire.take())))
    if ('refused' in offer) throw new CodedError('understudy.code', offer.refused, place)
    const salt = Buffer.from(offer.salt, 'base64')
    const { proofs, secret } = agree(key, Buffer.from(offer.key, 'base64'), 'second', code, salt)
    wire.send(proofs.second)
    if (!sameBytes(await wire.take(), proofs.first)) {
      throw new CodedError('understudy.code', 'the code is another one', place)
    }
    return { id: offer.id, name: offer.name, secret, via: socket.localAddress ?? '127.0.0.1' }
  } catch (error) {
    if (error instanceof CodedError) throw error
    throw new CodedError('understudy.unreachable', `pairing failed: ${(error as Error).message}`, place)
  } finally {
    wire.end()
  }
}

/** What the partner hands out. Each rejects when the partner does not answer, or is not the partner. */
export interface PartnerShow {
  /** The text of what it plays; null while it plays nothing. */
  show(): Promise<string | null>
  /** A recording's bytes; null when it has none of that name. */
  recording(file: string): Promise<Buffer | null>
  end(): void
}

export async function openPartner(
  address: string,
  port: number,
  ownId: string,
  secret: Buffer,
): Promise<PartnerShow> {
  const { wire } = await open(address, port)
  const own = greeting()
  wire.send(toBytes({ for: 'show', id: ownId, greeting: own.toString('base64') }))
  wire.seal(secret, 'asks', Buffer.concat([own, await wire.take()]))
  const get = async (wish: unknown): Promise<Buffer | null> => {
    wire.send(toBytes(wish))
    const found = await wire.take()
    return found.length === 0 ? null : found
  }
  return {
    show: async () => (await get({ get: 'show' }))?.toString() ?? null,
    recording: file => get({ get: 'recording', file }),
    end: () => wire.end(),
  }
}

async function open(address: string, port: number): Promise<{ wire: Wire; socket: Socket }> {
  const socket = connect({ host: address, port })
  await new Promise<void>((resolve, reject) => {
    const late = setTimeout(() => socket.destroy(new Error('no answer')), CONNECT_MS)
    socket.once('error', error => {
      clearTimeout(late)
      reject(
        new CodedError(
          'understudy.unreachable',
          `nobody answers there (${error.message})`,
          `${address}:${port}`,
        ),
      )
    })
    socket.once('connect', () => {
      clearTimeout(late)
      resolve()
    })
  })
  return { wire: wireOver(socket), socket }
}

const toBytes = (value: unknown): Buffer => Buffer.from(JSON.stringify(value))
