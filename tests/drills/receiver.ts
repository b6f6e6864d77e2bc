// A drill's hold on its receiver: what has come, and what it says of the light: gaps, frames lost, old frames.

import { type ChildProcess, fork } from 'node:child_process'
import { once } from 'node:events'
import { setTimeout as sleep } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import type { FromReceiver, HeardPacket, ToReceiver } from './receiver-process.ts'

export interface Receiver {
  readonly port: number
  /** All that has come, in order; up to date once `look` has resolved. */
  readonly packets: HeardPacket[]
  /** The longest that the machine let the receiver itself wait, ms, since `forget`: nobody's gap is shorter than that. */
  readonly stall: number
  look(): Promise<HeardPacket[]>
  /** Forgets what has come until now. */
  forget(): Promise<void>
  /** Looks until so many more packets have come. */
  more(count: number): Promise<void>
  /** The node is switched off (nobody listens at its port), and on again at the same port. */
  turn(to: 'off' | 'on'): Promise<void>
  close(): void
}

export async function openReceiver(): Promise<Receiver> {
  const file = fileURLToPath(new URL('./receiver-process.ts', import.meta.url))
  const child = fork(file, { execArgv: ['--import', 'tsx'], serialization: 'advanced' })
  const { port } = await answer<{ port: number }>(child)
  const packets: HeardPacket[] = []
  let longest = 0
  const look = async (): Promise<HeardPacket[]> => {
    const came = await ask<{ packets: HeardPacket[]; stall: number }>(child, { do: 'take' })
    packets.push(...came.packets)
    longest = Math.max(longest, came.stall)
    return packets
  }
  return {
    port,
    packets,
    get stall() {
      return longest
    },
    look,
    async forget() {
      await look()
      packets.length = longest = 0
    },
    async more(count) {
      const wanted = (await look()).length + count
      while ((await look()).length < wanted) await sleep(20)
    },
    async turn(to) {
      await ask(child, { do: to })
    },
    close: () => child.disconnect(),
  }
}

async function answer<T extends FromReceiver>(child: ChildProcess): Promise<T> {
  const [message] = (await once(child, 'message')) as [T]
  return message
}

function ask<T extends FromReceiver>(child: ChildProcess, message: ToReceiver): Promise<T> {
  const coming = answer<T>(child)
  child.send(message)
  return coming
}

/** The packets of each stream of its own sequence. */
function streamsOf(packets: readonly HeardPacket[]): HeardPacket[][] {
  const streams = new Map<string, HeardPacket[]>()
  for (const packet of packets) {
    const key = `${packet.protocol} ${packet.universe}`
    const stream = streams.get(key)
    if (stream) stream.push(packet)
    else streams.set(key, [packet])
  }
  return [...streams.values()]
}

/** How far a packet's number is ahead of the one before it: 1 when none is missing. */
export function aheadOf({ sequence: last }: HeardPacket, { sequence, protocol }: HeardPacket): number {
  // E1.31-2018 6.7.2 counts 0…255; Art-Net 4 counts 1…255, as 0 says that there is no sequence.
  return protocol === 'sacn' ? (sequence - last + 256) % 256 : (sequence - last + 255) % 255
}

/** Packets that are missing by their sequence numbers, of a sender that never began anew. */
export function lostOf(packets: readonly HeardPacket[]): number {
  let lost = 0
  for (const stream of streamsOf(packets)) {
    for (let i = 1; i < stream.length; i++) {
      const ahead = aheadOf(stream[i - 1]!, stream[i]!)
      lost += ahead === 0 ? 1 : ahead - 1
    }
  }
  return lost
}

/** The longest time without a packet in any stream, ms. */
export function longestGap(packets: readonly HeardPacket[]): number {
  let longest = 0
  for (const stream of streamsOf(packets)) {
    for (let i = 1; i < stream.length; i++) longest = Math.max(longest, stream[i]!.at - stream[i - 1]!.at)
  }
  return longest
}

/** The most packets of one stream in any `ms`. */
export function densest(packets: readonly HeardPacket[], ms: number): number {
  let most = 0
  for (const stream of streamsOf(packets)) {
    let first = 0
    for (const [i, { at }] of stream.entries()) {
      while (at - stream[first]!.at > ms) first++
      most = Math.max(most, i - first + 1)
    }
  }
  return most
}
