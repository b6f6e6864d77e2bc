// Counts packets over a long time without keeping them: lost ones, and how far each interval was from the period.

import { RESTART_JUMP } from '@glowchart/server/output/packet.ts'
import { aheadOf, type Receiver } from './receiver.ts'
import type { HeardPacket } from './receiver-process.ts'
import { PERIOD } from './stage.ts'

/** E1.31-2018 6.7.2: a number that is this far ahead is never taken for an old one. */
const LEAST_JUMP = 20

export interface Tally {
  readonly packets: number
  readonly lost: number
  /** Streams begun anew: their numbers jumped ahead, as they do then, in less time than so many frames take. */
  readonly begun: number
  /** Of each interval between two packets of one stream, ms. */
  readonly errors: number[]
  /** Takes what has come since, and gives it back. */
  look(): Promise<HeardPacket[]>
}

export function tally(receiver: Receiver): Tally {
  const last = new Map<string, HeardPacket>()
  const errors: number[] = []
  const sum = { packets: 0, lost: 0, begun: 0 }
  const take = (before: HeardPacket, packet: HeardPacket): void => {
    const passed = packet.at - before.at
    errors.push(Math.abs(passed - PERIOD))
    const ahead = aheadOf(before, packet)
    const jumped = ahead >= LEAST_JUMP && ahead <= RESTART_JUMP && passed < (ahead * PERIOD) / 2
    if (jumped) sum.begun++
    else sum.lost += ahead === 0 ? 1 : ahead - 1
  }
  return {
    get packets() {
      return sum.packets
    },
    get lost() {
      return sum.lost
    },
    get begun() {
      return sum.begun
    },
    errors,
    async look() {
      await receiver.look()
      const came = receiver.packets.splice(0)
      sum.packets += came.length
      for (const packet of came) {
        const key = `${packet.protocol} ${packet.universe}`
        const before = last.get(key)
        if (before) take(before, packet)
        last.set(key, packet)
      }
      return came
    },
  }
}
