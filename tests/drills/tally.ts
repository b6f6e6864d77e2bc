// Counts packets over a long time without keeping them: lost ones, and how far each interval was from the period.

import { lostOf, type Receiver } from './receiver.ts'
import type { HeardPacket } from './receiver-process.ts'
import { PERIOD } from './stage.ts'

export interface Tally {
  readonly packets: number
  readonly lost: number
  /** Of each interval between two packets of one stream, ms. */
  readonly errors: number[]
  /** Takes what has come since, and gives it back. */
  look(): Promise<HeardPacket[]>
}

export function tally(receiver: Receiver): Tally {
  const last = new Map<string, HeardPacket>()
  const errors: number[] = []
  let packets = 0
  let lost = 0
  return {
    get packets() {
      return packets
    },
    get lost() {
      return lost
    },
    errors,
    async look() {
      await receiver.look()
      const came = receiver.packets.splice(0)
      packets += came.length
      // With the last of each stream before them, so that nothing is lost between two lookings.
      lost += lostOf([...last.values(), ...came])
      for (const packet of came) {
        const key = `${packet.protocol} ${packet.universe}`
        const before = last.get(key)
        if (before) errors.push(Math.abs(packet.at - before.at - PERIOD))
        last.set(key, packet)
      }
      return came
    },
  }
}
