// How often a PIN may be tried, by a clock of the test's own.

import { attempts } from '@glowchart/server/access/attempts.ts'
import { describe, expect, it } from 'vitest'

const START = 1_900_000_000_000
let at = START
const now = () => at
const fresh = () => {
  at = START
  return attempts(now, null)
}

describe('tries of the PIN', () => {
  it('are free five times, then each waits twice as long, up to a quarter of an hour', () => {
    const tries = fresh()
    for (let i = 0; i < 5; i++) expect(tries.take('10.0.0.9')).toBe(0)
    const waits: number[] = []
    for (let i = 0; i < 14; i++) {
      const wait = tries.take('10.0.0.9')
      waits.push(wait / 1000)
      at += wait - 1
      expect(tries.take('10.0.0.9')).toBe(1)
      at += 1
      expect(tries.take('10.0.0.9')).toBe(0)
    }
    expect(waits).toEqual([1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900, 900, 900])
  })

  it('from many addresses wait together, and for nobody longer than half a minute', () => {
    const tries = fresh()
    for (let i = 0; i < 20; i++) expect(tries.take(`10.0.0.${i}`)).toBe(0)
    expect(tries.take('10.0.1.1')).toBe(1000)
    let most = 0
    for (let i = 0; i < 50; i++) {
      const wait = tries.take(`10.0.2.${i}`)
      most = Math.max(most, wait)
      at += wait
      expect(tries.take(`10.0.2.${i}`)).toBe(0)
    }
    expect(most).toBe(30_000)
  })

  it('find one PIN in a hundred million in no life of a band', () => {
    const tries = fresh()
    const day = 24 * 3_600_000
    let made = 0
    while (at < START + day) {
      const wait = tries.take(`10.0.${made % 200}.${made % 199}`)
      if (wait === 0) made++
      else at += wait
    }
    // Odds of a guess right in a day, against eight digits: 3 in 100,000.
    expect(made).toBeGreaterThan(1000)
    expect(made / 1e8).toBeLessThan(3e-5)
  })

  it('that are right leave no mark', () => {
    const tries = fresh()
    for (let i = 0; i < 200; i++) {
      expect(tries.take('10.0.0.9')).toBe(0)
      tries.right('10.0.0.9')
    }
  })

  it('at the same moment are all counted, before any is known to be wrong', () => {
    const tries = fresh()
    expect(Array.from({ length: 100 }, () => tries.take('10.0.0.9')).filter(wait => wait === 0)).toHaveLength(
      5,
    )
  })

  it('are forgotten after an hour without any', () => {
    const tries = fresh()
    for (let i = 0; i < 5; i++) tries.take('10.0.0.9')
    expect(tries.take('10.0.0.9')).toBeGreaterThan(0)
    at += 3_600_001
    for (let i = 0; i < 5; i++) expect(tries.take('10.0.0.9')).toBe(0)
  })

  it('are remembered over a restart; a clock that was set back makes no wait longer', () => {
    const before = fresh()
    for (let i = 0; i < 5; i++) before.take('10.0.0.9')
    const after = attempts(now, JSON.parse(JSON.stringify(before.state)))
    expect(after.take('10.0.0.9')).toBe(1000)
    at -= 365 * 24 * 3_600_000
    expect(after.take('10.0.0.9')).toBe(1000)
    at += 1000
    expect(after.take('10.0.0.9')).toBe(0)
  })

  it('of a thousand and more addresses take no more room', () => {
    const tries = fresh()
    for (let i = 0; i < 3000; i++) {
      tries.take(`10.${i >> 8}.0.${i & 255}`)
      at += 30_000
    }
    expect(Object.keys(tries.state.byAddress).length).toBeLessThanOrEqual(1000)
  })
})
