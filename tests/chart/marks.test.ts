// Advice in the margin: each stretch of bars on the line that it begins on, and no line drawn again for what it has.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { marksByLine } from '@glowchart/web/advice/marks.ts'
import { linesOf } from '@glowchart/web/chart/lines.ts'
import { expect, it } from 'vitest'

const section = (bars: number) => ({ name: 'Section', bars, meters: [], tempo: [], vamp: false, cues: {} })
const lines = linesOf(
  timelineOf({
    title: 'Song',
    bpm: 120,
    meter: { beats: 4, unit: 4 },
    sections: { a: section(6), b: section(11) },
    sectionOrder: ['a', 'b'],
    tracks: {},
    trackOrder: [],
  }),
  8,
)
const advice = (says: string, ...bars: [number, number][]): Advice => ({
  kind: 'fastFlashes',
  severity: 'heed',
  place: { song: 'song', bars: bars.map(([from, to]) => ({ from, to })) },
  says,
  remedy: 'Slow it down.',
})

it('has its marks on the lines that its bars begin on, in order of bars', () => {
  const marks = marksByLine(
    [advice('late', [14, 15], [6, 7]), advice('early', [1, 1], [7, 17])],
    lines,
    new Map(),
  )
  expect(lines.map(line => marks.get(line.key)!.map(mark => [mark.advice.says, mark.bars.from]))).toEqual([
    [
      ['early', 1],
      ['late', 6],
    ],
    [
      ['early', 7],
      ['late', 14],
    ],
    [],
  ])
})

it('read anew keeps the lists of the lines on which nothing is new', () => {
  const before = marksByLine([advice('one', [1, 2], [8, 9])], lines, new Map())
  const after = marksByLine([advice('one', [1, 2], [8, 9]), advice('two', [15, 15])], lines, before)
  const [first, second, third] = lines.map(line => line.key)
  expect(after.get(first!)).toBe(before.get(first!))
  expect(after.get(second!)).toBe(before.get(second!))
  expect(after.get(third!)!.map(mark => mark.advice.says)).toEqual(['two'])
})
