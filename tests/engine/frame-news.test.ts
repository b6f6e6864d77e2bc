// Which frames pages are told: every one that is another, and of a stage at rest enough that nobody is left behind.

import { frameNews } from '@glowchart/server/engine/frame-news.ts'
import { describe, expect, it } from 'vitest'

const PERIOD = 25
const piece = {}

/** Numbers of the frames that are told, of `count`; `change` sees each number before it. */
function toldOf(
  count: number,
  change: (
    frame: number,
  ) => Partial<{ of: object; level: number; at: number; moves: boolean; begins: boolean }>,
) {
  const news = frameNews()
  const levels = new Uint8Array(512)
  const told: number[] = []
  for (let n = 0; n < count; n++) {
    const { of = piece, level = 0, at = 0, moves = false, begins = false } = change(n)
    levels[100] = level
    if (begins) news.begin()
    if (news.isNews(of, levels, at, moves, n * PERIOD)) told.push(n)
  }
  return told
}

const from = (first: number, last: number): number[] =>
  Array.from({ length: last - first + 1 }, (_, i) => first + i)

describe('Frames for the pages', () => {
  it('are all told for a second after a change, then two a second', () => {
    expect(toldOf(120, () => ({}))).toEqual([...from(0, 40), 60, 80, 100])
  })

  it('are all told while the song moves, or one byte of light changes, however late', () => {
    expect(toldOf(200, n => ({ moves: n >= 150 && n < 160 })).filter(n => n >= 145)).toEqual(from(150, 199))
    expect(toldOf(200, n => ({ level: n >= 155 ? 1 : 0 })).filter(n => n >= 145)).toEqual(from(155, 195))
  })

  it('are told when the place or what is played becomes another one', () => {
    expect(toldOf(160, n => ({ at: n >= 155 ? 960 : 0 })).filter(n => n > 140)).toEqual(from(155, 159))
    const other = {}
    expect(toldOf(160, n => ({ of: n >= 155 ? other : piece })).filter(n => n > 140)).toEqual(from(155, 159))
  })

  it('are told at once to somebody who has just come', () => {
    expect(toldOf(160, n => ({ begins: n === 147 })).filter(n => n > 140)).toEqual([147])
  })
})
