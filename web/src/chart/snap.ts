// Snapping: the grid that goes with the zoom, the edges that pull, and a place in words.

import { barBeatAt, barStart, type MeterMap, ticksPerUnit } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { Snap } from '../document/preferences.ts'

/** Where edges snap to: bars, shares of a beat (1, 2 or 4 of them), note values from the bar's start, or nowhere. */
export type Grid = 'bar' | 1 | 2 | 4 | keyof typeof noteTicks | 'off'

const noteTicks = { eighth: 480, sixteenth: 240, triplet: 320 } as const

/** What keys step by where nothing snaps: a MIDI clock pulse. */
const FINE = 40

export const gridWords = (grid: Grid): string =>
  typeof grid === 'number' ? { 1: 'beat', 2: 'half beat', 4: 'quarter beat' }[grid] : grid

/** The grid that is chosen, or the one that goes with the zoom. 16 bars a line: the beat; 8: half-beats; 4: quarter-beats; more than 31: bars. */
export function gridOf(barsALine: number, snap: Snap): Grid {
  if (snap === 'beat') return 1
  if (snap !== 'zoom') return snap
  if (barsALine >= 32) return 'bar'
  if (barsALine >= 16) return 1
  return barsALine >= 8 ? 2 : 4
}

let held: Grid = 1

/** What keys snap to: the grid of the chart on the page. */
export const gridNow = (): Grid => held
export function holdGrid(grid: Grid): void {
  held = grid
}

/** The place on the grid nearest to a tick. */
export function onGrid(meters: MeterMap, tick: number, grid: Grid): number {
  if (grid === 'off') return Math.round(tick)
  const { bar, beat, tick: into } = barBeatAt(meters, ticks(tick))
  const from = barStart(meters, bar)
  const to = barStart(meters, bar + 1)
  if (grid === 'bar') return tick - from < to - tick ? from : to
  if (typeof grid === 'string') {
    // The next bar is a place too, where the note value does not fill this one.
    const on = from + Math.round((tick - from) / noteTicks[grid]) * noteTicks[grid]
    return on > to || to - tick < Math.abs(on - tick) ? to : on
  }
  const perBeat = ticksPerUnit(meterAt(meters, tick))
  const step = perBeat / grid
  return Math.round(from + beat * perBeat + Math.round(into / step) * step)
}

/** Length of a step of the grid at a tick. */
export function gridStep(meters: MeterMap, tick: number, grid: Grid): number {
  if (grid === 'off') return FINE
  if (typeof grid === 'string' && grid !== 'bar') return noteTicks[grid]
  const { bar } = barBeatAt(meters, ticks(tick))
  if (grid === 'bar') return barStart(meters, bar + 1) - barStart(meters, bar)
  return Math.round(ticksPerUnit(meterAt(meters, tick)) / grid)
}

const PULL = 6

/**
 * Where an edge goes: the nearest of the grid and of what pulls within 6 px.
 * @param pulls edges of cues and sections, ticks
 * @param pace ticks a px
 */
export function snapped(
  meters: MeterMap,
  tick: number,
  grid: Grid,
  pulls: Iterable<number>,
  pace: number,
): number {
  let best = onGrid(meters, tick, grid)
  if (grid === 'off') return best
  for (const pull of pulls) {
    const far = Math.abs(pull - tick)
    if (far <= PULL * pace && far < Math.abs(best - tick)) best = pull
  }
  return best
}

const SHARES: readonly (readonly [number, string])[] = [
  [1 / 4, '¼'],
  [1 / 3, '⅓'],
  [1 / 2, '½'],
  [2 / 3, '⅔'],
  [3 / 4, '¾'],
]

/** "bar 27", "bar 27, beat 3", "bar 27, beat 3½". */
export function placeWords(meters: MeterMap, tick: number): string {
  const { bar, beat, tick: into } = barBeatAt(meters, ticks(tick))
  const share = into / ticksPerUnit(meterAt(meters, tick))
  const sign = SHARES.find(([value]) => Math.abs(value - share) < 0.01)?.[1]
  const rest = sign ?? (into > 0 ? ` and ${Math.round(into)} ticks` : '')
  return beat === 0 && into === 0 ? `bar ${bar + 1}` : `bar ${bar + 1}, beat ${beat + 1}${rest}`
}

/** "2 bars", "3 beats", "1½ beats": a length, told in the meter at its start. */
export function lengthWords(meters: MeterMap, from: number, length: number): string {
  const bar = gridStep(meters, from, 'bar')
  if (length % bar === 0 && length > 0) return counted(length / bar, 'bar')
  return counted(Math.round((length / gridStep(meters, from, 1)) * 100) / 100, 'beat')
}

const counted = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`

function meterAt(meters: MeterMap, tick: number) {
  return (meters.findLast(segment => segment.at <= tick) ?? meters[0]!).meter
}
