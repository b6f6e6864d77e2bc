// Written and played position over loops and vamps.
import {
  type Advance,
  advance,
  type Jump,
  playedAt,
  type Repeats,
  writtenAt,
} from '@glowchart/shared/time/played.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { song } from './songs.ts'

// Bars of 3840: intro 0…3840, vamp 3840…7680, verse 7680…15360, outro vamp 15360…19200.
const { sections } = timelineOf(
  song({
    intro: { bars: 1 },
    vamp: { bars: 1, vamp: true },
    verse: { bars: 2 },
    outro: { bars: 1, vamp: true },
  }),
)
const nothing: Repeats = { loop: null, sections: [], released: null }
const vamps: Repeats = { loop: null, sections, released: null }
const looping = (from: number, to: number): Repeats => ({
  ...nothing,
  loop: { from: ticks(from), to: ticks(to) },
})
const at = (written: number, played = written) => ({ written: ticks(written), played: ticks(played) })
const go = (from: number, delta: number, repeats: Repeats) => advance(at(from), ticks(delta), repeats)

describe('a position that moves on', () => {
  it('is where it was plus the ticks that went by, without repeats', () => {
    expect(go(100.25, 50.5, nothing)).toEqual({ position: at(150.75), jumps: [], released: null })
  })

  it('goes back to a loop’s start on reaching its end', () => {
    expect(go(900, 59, looping(0, 960)).position).toEqual(at(959))
    expect(go(900, 60, looping(0, 960))).toEqual({
      position: at(0, 960),
      jumps: [{ at: 960, from: 960, to: 0 }],
      released: null,
    })
  })

  it('takes several wraps in one step, each with its jump', () => {
    const { position, jumps } = go(500, 1000, looping(480, 720))
    expect(position).toEqual(at(540, 1500))
    expect(jumps.map(jump => jump.at)).toEqual([720, 960, 1200, 1440])
  })

  it('enters a loop from before it, and leaves alone what is past it', () => {
    expect(go(0, 1000, looping(480, 720)).position.written).toBe(520)
    expect(go(720, 1000, looping(480, 720)).position.written).toBe(1720)
  })

  it('ignores a loop that is shorter than a tick or runs backwards', () => {
    expect(go(0, 1000, looping(480, 480)).position.written).toBe(1000)
    expect(go(0, 1000, looping(480, 480.5)).position.written).toBe(1000)
    expect(go(0, 1000, looping(720, 480)).position.written).toBe(1000)
  })
})

describe('a vamp', () => {
  it('repeats until it is released, also when a step begins before it', () => {
    expect(go(0, 3840 * 5 + 7, vamps).position.written).toBe(3840 + 7)
    expect(go(0, 3840 * 5 + 7, vamps).jumps).toHaveLength(4)
  })

  it('is left at its next end once released, and the release is spent there', () => {
    const inside = go(5000, 1000, { ...vamps, released: 'vamp' })
    expect(inside).toEqual({ position: at(6000), jumps: [], released: 'vamp' })
    const left = go(6000, 1680, { ...vamps, released: 'vamp' })
    expect(left).toEqual({ position: at(7680), jumps: [], released: null })
  })

  it('does not release the next one', () => {
    const { position, released } = go(5000, 18_000, { ...vamps, released: 'vamp' })
    expect(position.written).toBe(5000 + 18_000 - 3840)
    expect(released).toBeNull()
  })

  it('repeats inside a longer loop, and again on each pass of the loop after a release', () => {
    const repeats = { ...vamps, ...{ loop: { from: ticks(0), to: ticks(11_520) } } }
    expect(go(4000, 7680, repeats).position.written).toBe(4000)
    const { position, jumps } = go(4000, 11_520 + 3840, { ...repeats, released: 'vamp' })
    expect(jumps).toEqual([
      { at: 11_520, from: 11_520, to: 0 },
      { at: 11_520 + 7680, from: 7680, to: 3840 },
    ])
    expect(position).toEqual(at(4000, 19_360))
  })

  it('gives way to a loop that ends with it', () => {
    const repeats = { ...vamps, loop: { from: ticks(0), to: ticks(7680) } }
    expect(go(7000, 680, repeats).position.written).toBe(0)
  })
})

const anyRepeats = fc.record({
  loop: fc.option(
    fc
      .tuple(fc.integer({ min: 0, max: 12_000 }), fc.integer({ min: 120, max: 9000 }))
      .map(([from, length]) => ({
        from: ticks(from),
        to: ticks(from + length),
      })),
  ),
  sections: fc.constantFrom(sections, []),
  released: fc.constantFrom(null, 'vamp', 'outro'),
})
// Steps in 64ths of a tick: sums of them are exact, so equal means equal.
const step = fc.integer({ min: 0, max: 300_000 }).map(n => n / 64)

describe('any way through a song', () => {
  it('arrives at the same place, by the same jumps, in one long step as in many short ones', () => {
    fc.assert(
      fc.property(
        anyRepeats,
        fc.integer({ min: 0, max: 16_000 }),
        fc.array(step),
        (repeats, start, steps) => {
          const total = steps.reduce((a, b) => a + b, 0)
          const long = advance(at(start), ticks(total), repeats)
          let short: Advance = { position: at(start), jumps: [], released: repeats.released }
          for (const delta of steps) {
            const next = advance(short.position, ticks(delta), { ...repeats, released: short.released })
            short = { ...next, jumps: [...short.jumps, ...next.jumps] }
          }
          expect(short).toEqual(long)
        },
      ),
      { numRuns: 500 },
    )
  })

  it('is told again by the list of jumps, both ways', () => {
    fc.assert(
      fc.property(anyRepeats, fc.array(step, { minLength: 1 }), (repeats, steps) => {
        const jumps: Jump[] = []
        let now: Advance = { position: at(0), jumps: [], released: repeats.released }
        const seen = [now.position]
        for (const delta of steps) {
          now = advance(now.position, ticks(delta), { ...repeats, released: now.released })
          jumps.push(...now.jumps)
          seen.push(now.position)
        }
        for (const { written, played } of seen) {
          expect(writtenAt(jumps, played)).toBe(written)
          const last = playedAt(jumps, written)!
          expect(last).toBeGreaterThanOrEqual(played)
          expect(writtenAt(jumps, last)).toBe(written)
        }
        expect(playedAt(jumps, now.position.written)).toBe(now.position.played)
      }),
      { numRuns: 500 },
    )
  })
})

describe('the list of jumps', () => {
  it('starts a song in its middle with a jump at 0, and never plays what that skips', () => {
    const located: Jump[] = [{ at: ticks(0), from: ticks(0), to: ticks(7680) }]
    expect(writtenAt(located, ticks(100))).toBe(7780)
    expect(playedAt(located, ticks(7780))).toBe(100)
    expect(playedAt(located, ticks(100))).toBeNull()
  })

  it('knows no played position for what a pass left before', () => {
    const jumps: Jump[] = [
      { at: ticks(50), from: ticks(50), to: ticks(0) },
      { at: ticks(100), from: ticks(50), to: ticks(7680) },
    ]
    expect([49, 50, 100, 7680].map(written => playedAt(jumps, ticks(written)))).toEqual([99, null, null, 100])
  })

  it('is on the far side of a jump on the jump’s own tick', () => {
    const jumps: Jump[] = [{ at: ticks(960), from: ticks(960), to: ticks(480) }]
    expect([959, 960, 961].map(played => writtenAt(jumps, ticks(played)))).toEqual([959, 480, 481])
    expect([479, 480, 959, 960].map(written => playedAt(jumps, ticks(written)))).toEqual([
      479, 960, 1439, 1440,
    ])
  })
})
