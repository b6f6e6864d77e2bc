// The preview holds its own flashing to three a second, and leaves all other light as it is sent.
import { flashLimit } from '@glowchart/web/stage/flash-limit.ts'
import { expect, test } from 'vitest'

const fixtures = [0, 1, 2, 3].map(firstCell => ({ firstCell, cells: 1 }))

/** Plays `seconds` of light at 40 frames a second; the light shown in each frame, by fixture. */
function shown(seconds: number, levelAt: (fixture: number, time: number) => number, tint = [1, 1, 1]) {
  const limit = flashLimit(fixtures, 4)
  const frames: { held: boolean; levels: number[] }[] = []
  for (let n = 0; n < seconds * 40; n++) {
    const light = Float32Array.from(
      { length: 12 },
      (_, i) => levelAt(Math.floor(i / 3), n / 40) * tint[i % 3]!,
    )
    const held = limit.hold(light, n * 25)
    frames.push({
      held,
      levels: fixtures.map(f => Math.max(...light.subarray(f.firstCell * 3, f.firstCell * 3 + 3))),
    })
  }
  return frames
}

/** Flashes by the general rule of WCAG 2.2: up by 0.1 from a state under 0.8, and down again, in the worst second. */
function worstSecond(levels: readonly number[]): number {
  const falls: number[] = []
  let turn = levels[0]!
  let rising = false
  for (const [n, level] of levels.entries()) {
    turn = rising ? Math.max(turn, level) : Math.min(turn, level)
    if (Math.abs(level - turn) < 0.1 || Math.min(level, turn) >= 0.8) continue
    if (rising) falls.push(n)
    rising = !rising
    turn = level
  }
  return Math.max(0, ...falls.map(from => falls.filter(n => n >= from && n < from + 40).length))
}

const square = (hz: number) => (_: number, t: number) => (Math.floor(t * hz * 2) % 2 === 0 ? 1 : 0)

test('the counter that judges here finds what is not held', () => {
  expect(worstSecond(Array.from({ length: 160 }, (_, n) => square(10)(0, n / 40)))).toBeGreaterThan(8)
})

test.each([
  ['white', [1, 1, 1]],
  ['blue, which has little luminance', [0, 0, 1]],
])('a strobe of 10 Hz in %s is held to three flashes a second once it has begun', (_, tint) => {
  const frames = shown(5, square(10), tint)
  expect(frames.slice(40).every(f => f.held)).toBe(true)
  expect(worstSecond(frames.map(f => f.levels[0]!))).toBeLessThanOrEqual(4)
  expect(worstSecond(frames.slice(40).map(f => f.levels[0]!))).toBeLessThanOrEqual(3)
})

test.each([1, 2, 2.9])('flashing at %d Hz is shown as it is sent', hz => {
  const frames = shown(5, square(hz))
  expect(frames.some(f => f.held)).toBe(false)
})

test('one bulb that sparkles among steady lights is shown as it is sent: the stage as a whole does not flash', () => {
  const level = (fixture: number, t: number) => (fixture === 0 ? 0.3 * square(8)(0, t) : 0.5)
  expect(shown(4, level).some(f => f.held)).toBe(false)
})

test('only the fixtures that flash are held', () => {
  const level = (fixture: number, t: number) => (fixture < 2 ? square(10)(0, t) : 0.5)
  const last = shown(4, level).at(-1)!
  expect(last.held).toBe(true)
  expect(last.levels[2]).toBe(0.5)
  expect(last.levels[0]).toBeGreaterThan(0.2)
  expect(last.levels[0]).toBeLessThan(0.8)
})
