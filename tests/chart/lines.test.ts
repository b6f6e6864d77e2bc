// A song breaks into lines by section, and every tick has one place on the page.
import { type Timeline, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { barsInto, lineAt, lineEnd, lineStart, linesOf, tickInto } from '@glowchart/web/chart/lines.ts'
import { pageOf, spotOf, tickAt } from '@glowchart/web/chart/page.ts'
import { laneOf, rowsOf } from '@glowchart/web/chart/rows.ts'
import { lineNeeded, turnTo } from '@glowchart/web/chart/turn.ts'
import { expect, test } from 'vitest'

const section = (bars: number, meters: { bar: number; meter: { beats: number; unit: 4 | 8 } }[] = []) => ({
  name: 'Section',
  bars,
  meters,
  tempo: [],
  vamp: false,
  cues: {},
})

/** 6 bars of 4/4, then 11 bars of which the fourth and on are 7/8. */
const timeline: Timeline = timelineOf({
  title: 'Song',
  bpm: 120,
  meter: { beats: 4, unit: 4 },
  sections: { a: section(6), b: section(11, [{ bar: 3, meter: { beats: 7, unit: 8 } }]) },
  sectionOrder: ['a', 'b'],
  tracks: {},
  trackOrder: [],
})
const lines = linesOf(timeline, 8)

test('a section begins a line, and a longer one wraps', () => {
  expect(lines.map(l => [l.section.id, l.firstBar, l.bars, l.first, l.last])).toEqual([
    ['a', 0, 6, true, true],
    ['b', 6, 8, true, false],
    ['b', 14, 3, false, true],
  ])
  expect(lineStart(lines[0]!)).toBe(0)
  for (const [i, line] of lines.slice(1).entries()) expect(lineStart(line)).toBe(lineEnd(lines[i]!))
  expect(lineEnd(lines[2]!)).toBe(timeline.length)
})

test('bars have one width whatever their meter, and a place on the line leads back to its tick', () => {
  const line = lines[1]!
  expect(barsInto(line, lineStart(line) + 3 * 3840)).toBe(3)
  expect(barsInto(line, lineStart(line) + 3 * 3840 + 3360)).toBe(4)
  for (let tick = lineStart(line); tick < lineEnd(line); tick += 97) {
    expect(tickInto(line, barsInto(line, tick))).toBeCloseTo(tick, 6)
  }
})

test('the line of a tick is the one it lies in; the end belongs to the last', () => {
  expect(lineAt(lines, 0)).toBe(0)
  expect(lineAt(lines, lineEnd(lines[0]!) - 1)).toBe(0)
  expect(lineAt(lines, lineEnd(lines[0]!))).toBe(1)
  expect(lineAt(lines, timeline.length)).toBe(2)
  expect(lineAt([], 0)).toBe(-1)
})

const parts = [{ part: 'p', name: 'P', strands: [{ firstCell: 0, cells: 1 }], staves: [0.5], tracks: [] }]
const page = pageOf(lines, parts, line => line === lines[1], { barWidth: 50, gutter: 100, top: 9 })

test('a press on the page finds the tick that is drawn there', () => {
  const tick = lineStart(lines[1]!) + 4000
  const spot = spotOf(page, tick)!
  const found = tickAt(page, spot.x, spot.at.top + spot.at.height / 2)!
  expect(found.at.line).toBe(lines[1])
  expect(found.tick).toBeCloseTo(tick, 6)
  expect(tickAt(page, 120, page.height + 50)).toBeNull()
})

test('the page turns one bar early, by whole lines, and not while the line can be seen', () => {
  expect(lineNeeded(page, 0, 4.9)).toBe(0)
  expect(lineNeeded(page, 0, 5)).toBe(1)
  expect(lineNeeded(page, 2, 2.5)).toBe(2)
  const second = page.lines[1]!
  const all = { top: 0, height: page.height }
  expect(turnTo(page, 0, 1, all)).toBeNull()
  const small = { top: 0, height: second.top + 10 }
  const to = turnTo(page, 0, 1, small)!
  expect(to).toBeLessThanOrEqual(second.top)
  expect(turnTo(page, 1, 1, { top: 0, height: 40 })).toBe(second.top - 14)
})

test('a part with several cue tracks has a lane for each in an open row, and is one row where the line is folded', () => {
  const several = [{ ...parts[0]!, tracks: ['a', 'b', 'c'] }, parts[0]!]
  const [row, other] = rowsOf(several, true).rows
  expect(row!.lanes.map(lane => lane.track)).toEqual(['a', 'b', 'c'])
  expect(laneOf(row!, 'b')).toMatchObject({ y: row!.height / 3, height: row!.height / 3 })
  expect(row!.height).toBeGreaterThanOrEqual(3 * 18)
  expect(other!.lanes).toEqual([])
  expect(laneOf(other!, 'a')).toBe(other)
  expect(rowsOf(several, false).rows[0]!.lanes).toEqual([])
})
