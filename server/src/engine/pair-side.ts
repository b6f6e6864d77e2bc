// What the pair of two laptops needs of this one's engine, and what the engine refuses while the other drives the light.

import type { TransportState } from '@glowchart/shared/clock/transport.ts'
import { problem } from '@glowchart/shared/errors.ts'
import type { Resume, ToEngine } from '@glowchart/shared/messages.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import type { Output } from '@glowchart/shared/show/output.ts'
import type { BeatOrders } from '../understudy/beats.ts'
import { type Chosen, chosenIn } from './chosen.ts'
import type { Mirror, Stand, ToLoop } from './loop-messages.ts'
import type { Piece } from './player.ts'

/** What a second laptop's half of the engine needs of this one: see `understudy/partner.ts`. */
export interface PairSide {
  readonly holding: Documents | null
  /** Tonight's ways out, open or not; the transport; null before the first frame. */
  readonly output: Output | null
  readonly transport: TransportState | null
  /** What the loop has. */
  readonly piece: Piece | null
  /** While it is silent, presses and documents of our own are refused. */
  stand(stand: Stand): void
  mirror(mirror: Mirror): void
  order(orders: BeatOrders | null): void
  /** Takes the other's documents in place of ours; the app is told, and so keeps them. */
  adopt(documents: Documents): void
}

interface Insides {
  holding(): Documents | null
  resume(): Resume | null
  sent(): Piece | null
  isChosen(one: Chosen): boolean
  send(message: ToLoop): void
  stand(stand: Stand): void
  /** Another song or look than the one that stands. */
  show(one: Chosen, mirror: Mirror): void
  adopt(documents: Documents): void
}

export const pairSide = ({
  holding,
  resume,
  sent,
  isChosen,
  send,
  stand,
  show,
  adopt,
}: Insides): PairSide => ({
  get holding() {
    return holding()
  },
  get output() {
    return resume()?.output ?? null
  },
  get transport() {
    return resume()?.transport ?? null
  },
  get piece() {
    return sent()
  },
  stand,
  mirror(mirror) {
    const one = chosenIn(mirror.transport)
    if (!one) return
    if (sent() && isChosen(one)) send({ type: 'mirror', mirror })
    else show(one, mirror)
  },
  order: orders => send({ type: 'beats', orders }),
  adopt,
})

const presses: ReadonlySet<ToEngine['type']> = new Set(['transport', 'live', 'output', 'check', 'change'])

/** Whether a message is for the laptop that drives the light alone. */
export const isPress = ({ type }: ToEngine): boolean => presses.has(type)

export const followsAnother = problem('understudy.follows', 'this laptop follows another one', 'understudy')

/** The revision of documents that are the other laptop's: below every one of our own app. */
export const ADOPTED = Number.MIN_SAFE_INTEGER
