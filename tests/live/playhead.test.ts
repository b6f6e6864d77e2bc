// The playhead carries the last known position on to now, never runs backwards, and follows every jump at once.
import { resetEngineClock, takePong } from '@glowchart/web/live/engine-clock.ts'
import { positionAt, takeFix } from '@glowchart/web/live/playhead.ts'
import { beforeEach, expect, test } from 'vitest'

/** Ticks a ms at 120 BPM. */
const PACE = 1.92
/** The engine's clock is this far ahead of the page's, ms. */
const AHEAD = 5000

beforeEach(() => {
  resetEngineClock()
  takePong(0, 10, AHEAD + 5)
  takeFix({ position: 0, at: 0, playing: false }, 120)
})

const frame = (n: number, position: number, playing = true) =>
  takeFix({ position, at: AHEAD + n * 25, playing }, 120)

test('between two frames it goes on at the song’s pace', () => {
  for (let n = 0; n <= 4; n++) frame(n, n * 25 * PACE)
  expect(positionAt(100)).toBeCloseTo(100 * PACE, 6)
  expect(positionAt(112)).toBeCloseTo(112 * PACE, 6)
})

test('it does not run backwards when a frame says a little less than was shown', () => {
  for (let n = 0; n <= 4; n++) frame(n, n * 25 * PACE)
  const before = positionAt(124)
  frame(5, 125 * PACE - 20)
  expect(positionAt(125)).toBeGreaterThanOrEqual(before)
})

test('a jump is shown at once, in both directions', () => {
  for (let n = 0; n <= 4; n++) frame(n, n * 25 * PACE)
  frame(5, 40_000)
  expect(positionAt(125)).toBeCloseTo(40_000, 6)
  frame(6, 960)
  expect(positionAt(150)).toBeCloseTo(960, 6)
})

test('without news it stops after a quarter of a second instead of claiming what nobody knows', () => {
  for (let n = 0; n <= 4; n++) frame(n, n * 25 * PACE)
  expect(positionAt(5000)).toBeCloseTo((100 + 250) * PACE, 6)
})

test('stopped, it stands where the engine says', () => {
  for (let n = 0; n <= 4; n++) frame(n, n * 25 * PACE)
  positionAt(120)
  frame(5, 100 * PACE, false)
  expect(positionAt(400)).toBeCloseTo(100 * PACE, 6)
})
