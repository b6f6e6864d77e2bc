// The measure of the live sockets: how many there may be, how fast each may talk, and that the other end still lives.

import type { WebSocket } from '@fastify/websocket'
import type { Role } from '@glowchart/shared/access/role.ts'
import type { Who } from '../access/access.ts'
import { monotonicMs } from '../engine/now.ts'

/** Pages of the laptop itself, of one guest, and of all guests together. */
const MOST_OWN = 64
const MOST_OF_GUEST = 6
const MOST_OF_GUESTS = 60

/** Bytes of a message of somebody who only looks on. */
const MOST_LOOKING = 8192

interface Pace {
  /** Messages a second, and how many may come at once. A message counts once more for each `BYTES` of it. */
  readonly rate: number
  readonly burst: number
}
const BYTES = 4096
/** The laptop's own pages: MIDI, drags and pasted cues. */
const OWN: Pace = { rate: 1000, burst: 4000 }
const GUEST: Pace = { rate: 200, burst: 600 }

/** A phone that walked away closes nothing: it is asked so often, ms, and is gone when it did not answer the last. */
const ASKED_EVERY = 10_000
/** RFC 6455 7.4.1: a message that breaks the policy. */
const POLICY = 1008

/** Whether one more page fits beside those that are there. */
export function roomFor(who: Who, there: readonly Who[]): boolean {
  const { guest } = who
  if (guest === null) return there.filter(other => other.guest === null).length < MOST_OWN
  const guests = there.filter(other => other.guest !== null)
  return (
    guests.length < MOST_OF_GUESTS && guests.filter(other => other.guest === guest).length < MOST_OF_GUEST
  )
}

/** Counts what a page says. @param now ms. @returns how many ms nothing more is to be read after a message */
export function paced({ rate, burst }: Pace, now: () => number): (bytes: number) => number {
  let left = burst
  let last = now()
  return bytes => {
    const at = now()
    left = Math.min(burst, left + ((at - last) * rate) / 1000) - 1 - bytes / BYTES
    last = at
    return left >= 0 ? 0 : (-left * 1000) / rate
  }
}

/** Slows a page that talks too fast by not reading it, cuts off one that sends what it has no use for, or that is gone. */
export function keepMeasure(socket: WebSocket, role: () => Role | null): void {
  const count = paced(role() === 'owner' ? OWN : GUEST, monotonicMs)
  let waiting: ReturnType<typeof setTimeout> | undefined
  let answered = true
  socket.on('message', (data: Buffer) => {
    if (data.length > MOST_LOOKING && role() === 'viewer') return socket.close(POLICY)
    const wait = count(data.length)
    if (wait === 0 || waiting) return
    socket.pause()
    waiting = setTimeout(() => {
      waiting = undefined
      socket.resume()
    }, wait)
  })
  socket.on('pong', () => {
    answered = true
  })
  const asking = setInterval(() => {
    // What waits to be read may hold the answer.
    if (!answered && !waiting) return socket.terminate()
    answered = false
    socket.ping()
  }, ASKED_EVERY)
  socket.on('close', () => {
    clearTimeout(waiting)
    clearInterval(asking)
  })
}
