// What the long runs judge by: the slope of a heap that is swept now and then, and packets lost against streams begun anew.

import { expect, it } from 'vitest'
import { slopeOf } from '../drills/memory.ts'
import type { Receiver } from '../drills/receiver.ts'
import type { HeardPacket } from '../drills/receiver-process.ts'
import { tally } from '../drills/tally.ts'

const SECOND = 1000
const HOUR = 3600 * SECOND

/** Sampled every two seconds for 20 minutes: swept every 14 s, warming up for two minutes, growing by MB an hour. */
const heap = (growth: number) =>
  Array.from({ length: 600 }, (_, i) => {
    const at = 5000 + i * 2 * SECOND
    const warm = 40 * Math.min(1, i / 60)
    return { at, value: 10 + warm + (i % 7) + (growth * i * 2 * SECOND) / HOUR }
  })

it('a heap that is swept again and again is flat, and its warming up is no growth', () => {
  expect(Math.abs(slopeOf(heap(0)))).toBeLessThan(0.5)
})

it('what is never given back shows as growth an hour', () => {
  expect(slopeOf(heap(36))).toBeGreaterThan(35)
  expect(slopeOf(heap(36))).toBeLessThan(37)
})

async function tallied(sequences: readonly [at: number, sequence: number][]) {
  const packets = sequences.map(
    ([at, sequence]): HeardPacket => ({
      at,
      protocol: 'sacn',
      universe: 1,
      sequence,
      priority: 100,
      ended: false,
      levels: new Uint8Array(512),
    }),
  )
  const receiver = { packets, look: async () => packets } as unknown as Receiver
  const sum = tally(receiver)
  await sum.look()
  return { lost: sum.lost, begun: sum.begun }
}

it('a stream that is opened anew jumps ahead at once, and nothing of it is lost', async () => {
  const anew = await tallied([
    [0, 254],
    [25, 255],
    [50, 0],
    [75, 63],
    [100, 64],
  ])
  expect(anew).toEqual({ lost: 0, begun: 1 })
})

it('numbers that are missing over the time that they take are lost, and so is one that comes twice', async () => {
  const lost = await tallied([
    [0, 1],
    [25, 2],
    [1025, 42],
    [1050, 42],
  ])
  expect(lost).toEqual({ lost: 40, begun: 0 })
})
