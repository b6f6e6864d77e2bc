// When the other laptop's frames are due here, and what goes out from here in its place.

import { openStreams } from '@glowchart/server/output/streams.ts'
import { outputHere } from '@glowchart/server/understudy/follow.ts'
import { theirFrames } from '@glowchart/server/understudy/their-frames.ts'
import { outputSchema } from '@glowchart/shared/show/output.ts'
import { expect, it } from 'vitest'
import { random } from '../support/random.ts'

it('finds the other’s grid within a millisecond from heartbeats that came late by chance, and then leaves it', () => {
  const chance = random(5)
  const frames = theirFrames()
  const rate = 40
  /** Their frame 0 was due at this time of our clock. */
  const origin = 12_345.6
  let grid = Number.NaN
  let moved = 0
  for (let i = 0; i < 300; i++) {
    const frame = 4 * i
    const age = 0.3
    // A way of 0.2 ms, and up to 20 ms of waiting: Wi-Fi on a bad day.
    const at = origin + (frame * 1000) / rate + age + 0.2 + 20 * chance() ** 2
    const next = frames.heard(frame, rate, age, at, 0.4 + 20 * chance())
    if (next === null) continue
    grid = next
    if (i > 100) moved++
  }
  expect(Math.abs(grid - origin)).toBeLessThan(1)
  expect(moved).toBeLessThan(3)
})

it('follows at once when the other counts its frames anew', () => {
  const frames = theirFrames()
  expect(frames.heard(4000, 40, 0, 100_000, null)).toBe(0)
  expect(frames.heard(4004, 40, 0, 100_100, null)).toBeNull()
  expect(frames.heard(2, 40, 0, 100_200, null)).toBe(100_150)
})

it('sends by its own address on the network where the other names one of its own', () => {
  const to = (portAddress: number) => ({ protocol: 'artnet', host: '2.0.0.9', portAddress })
  const output = outputSchema.parse({
    routes: [
      { universe: 1, via: '2.0.0.1', to: to(1) },
      { universe: 2, via: '192.168.1.4', to: to(2) },
      { universe: 3, to: to(3) },
    ],
  })
  const here = outputHere(output, [{ name: 'eth0', address: '2.0.0.2', netmask: '255.0.0.0' }])
  expect(here.routes.map(route => route.via)).toEqual(['2.0.0.2', undefined, undefined])
})

it('sends once what went out of two networks of the other, and is one way out here', () => {
  const to = { protocol: 'sacn', host: 'multicast', wireUniverse: 1 }
  const output = outputSchema.parse({
    routes: [
      { universe: 1, via: '2.0.0.1', to },
      { universe: 1, via: '192.168.1.4', to },
    ],
  })
  const here = outputHere(output, [{ name: 'eth0', address: '10.0.0.2', netmask: '255.0.0.0' }])
  expect(here.routes).toEqual([{ universe: 1, to: output.routes[0]!.to }])
  expect(() => openStreams(here, { cid: new Uint8Array(16) })).not.toThrow()
})
