// The heartbeats, made and sent by the frame loop itself: they say that frames leave, whatever else has died.

import { randomBytes } from 'node:crypto'
import { crc32 } from 'node:zlib'
import type { Beat } from '@glowchart/shared/understudy/beat.ts'
import { monotonicMs } from '../engine/now.ts'
import type { Player } from '../engine/player.ts'
import { Link } from '../output/link.ts'
import type { Destination } from '../output/packet.ts'
import { sealDatagram } from './datagram.ts'

/** All that the loop needs to know of the pair. */
export interface BeatOrders {
  key: Uint8Array
  to: Destination
  /** Ours, and the other's that we answer; see `sealDatagram`. */
  nonce: Uint8Array
  challenge: Uint8Array
  says: Pick<Beat, 'name' | 'term' | 'yields' | 'content' | 'output' | 'trip'>
}

/** The frame under way. */
export interface Sending {
  player: Player
  frame: number
  rate: number
  /** Ms of the machine's monotonic clock. */
  due: number
  lift: number
  sends: boolean
}

export interface BeatSender {
  /** Null: nobody follows. */
  order(orders: BeatOrders | null): void
  /** Never throws, never waits: a lost heartbeat is the next one's business. */
  send(sending: Sending): void
}

export function beatSender(): BeatSender {
  const stream = randomBytes(8)
  let counter = 0n
  let orders: BeatOrders | null = null
  let link: Link | null = null

  return {
    order(next) {
      const { to } = next ?? {}
      if (!to || to.host !== orders?.to.host || to.via !== orders.to.via) {
        link?.close()
        link = to ? new Link(to, monotonicMs()) : null
      }
      orders = next
    },
    send({ player, frame, rate, due, lift, sends }) {
      if (!orders || !link) return
      const now = monotonicMs()
      const { source, lock, bpm } = player.clockStatus(due)
      const beat: Beat = {
        kind: 'beat',
        ...orders.says,
        lift,
        sends,
        frame,
        rate,
        age: now - due,
        sent: now,
        position: player.position,
        from: player.from,
        to: player.to,
        moves: player.moves,
        transport: player.transport,
        live: player.live,
        house: player.house,
        pace: player.pace,
        check: player.check,
        clock: { source, lock, bpm },
        levels: player.universes.map((universe, i) => ({
          universe,
          crc: crc32(player.levels.subarray(i * 512, i * 512 + 512)),
        })),
      }
      const { nonce, challenge } = orders
      const envelope = {
        stream,
        counter: ++counter,
        nonce: Buffer.from(nonce),
        challenge: Buffer.from(challenge),
      }
      link.send(sealDatagram(Buffer.from(orders.key), envelope, beat), orders.to, now, error => {
        link?.note(error)
      })
    },
  }
}
