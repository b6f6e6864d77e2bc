// Mapping a page's clock to the engine's, over a network that delays.

import {
  engineTime,
  type PageClock,
  type Ping,
  pageClock,
  pinged,
} from '@glowchart/shared/clock/page-clock.ts'
import { describe, expect, it } from 'vitest'
import { random } from '../support/random.ts'

describe('page clock', () => {
  it('knows nothing before the first ping', () => {
    expect(engineTime(pageClock, 5)).toBeNull()
  })

  it('is exact where the way there and back take the same time', () => {
    const clock = pinged(pageClock, { sent: 100, engine: 5010, received: 120 })
    expect(engineTime(clock, 110)).toBe(5010)
    expect(engineTime(clock, 200)).toBe(5100)
  })

  it('keeps to 2 ms over ten minutes of a busy network and 50 ppm of drift, in bounded memory', () => {
    const next = random(3)
    const engineAt = (page: number): number => 70_000 + page * (1 + 50e-6)
    let clock: PageClock = pageClock
    let worst = 0
    for (let sent = 0; sent < 600_000; sent += 2000) {
      // One ping in three is quick (1–2 ms each way), the others wait up to 80 ms, unevenly.
      const quick = next() < 1 / 3
      const there = quick ? 1 + next() : 80 * next()
      const back = quick ? 1 + next() : 80 * next()
      clock = pinged(clock, { sent, engine: engineAt(sent + there), received: sent + there + back })
      if (sent < 30_000) continue
      worst = Math.max(worst, Math.abs(engineTime(clock, sent + 1500)! - engineAt(sent + 1500)))
    }
    expect(worst).toBeLessThan(2)
    expect(clock.pings.length).toBeLessThanOrEqual(32)
  })

  it('follows an engine that was started anew, once the old pings have gone', () => {
    let clock = pinged(pageClock, { sent: 0, engine: 1000, received: 1 })
    clock = pinged(clock, { sent: 70_000, engine: 5, received: 70_010 })
    expect(engineTime(clock, 70_005)).toBe(5)
  })

  it.each<Ping>([
    { sent: 10, engine: 5, received: 9 },
    { sent: Number.NaN, engine: 5, received: 9 },
    { sent: 1, engine: Number.POSITIVE_INFINITY, received: 9 },
  ])('does not hear a ping that cannot be: %o', ping => {
    expect(pinged(pageClock, ping)).toBe(pageClock)
  })
})
