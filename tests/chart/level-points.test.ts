// Points of a level, and the grids that edges snap to.

import { meterMap } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { gridStep, onGrid } from '@glowchart/web/chart/snap.ts'
import { levelAt, levelled, moved, pointsOf, withMore, without } from '@glowchart/web/level/points.ts'
import { describe, expect, it } from 'vitest'

const rise = [
  { at: ticks(0), level: 0.2 },
  { at: ticks(960), level: 1 },
]

describe('level points', () => {
  it('run straight between each other and hold outside', () => {
    for (const [at, level] of [
      [-100, 0.2],
      [0, 0.2],
      [480, 0.6],
      [960, 1],
      [5000, 1],
    ] as const) {
      expect(levelAt(rise, at)).toBeCloseTo(level, 12)
    }
  })

  it('begin at the ends of a cue whose level is constant', () => {
    expect(pointsOf(0.7, 3840)).toEqual([
      { at: 0, level: 0.7 },
      { at: 3840, level: 0.7 },
    ])
  })

  it('more of them change no level until one is moved', () => {
    const more = withMore(rise, 240)!
    expect(more.at).toBe(1)
    for (const at of [0, 100, 240, 500, 960]) expect(levelAt(more.points, at)).toBeCloseTo(levelAt(rise, at))
    expect(withMore(rise, 960)).toBeNull()
  })

  it('do not pass each other, and stay within 0 and 1', () => {
    expect(moved(rise, 0, 2000, 3)).toEqual([{ at: 959, level: 1 }, rise[1]])
    expect(moved(rise, 1, -50, -1)).toEqual([rise[0], { at: 1, level: 0 }])
  })

  it('the last one that is left is one level again', () => {
    expect(without(rise, 0)).toBe(1)
    expect(without(withMore(rise, 240)!.points, 1)).toEqual(rise)
  })

  it('keep their proportions under another peak', () => {
    expect(levelled(rise, 0.5)).toEqual([
      { at: 0, level: 0.1 },
      { at: 960, level: 0.5 },
    ])
    expect(levelled([{ at: ticks(0), level: 0 }], 0.5)).toBe(0.5)
  })
})

describe('grids', () => {
  const four = meterMap({ beats: 4, unit: 4 }, [])
  const seven = meterMap({ beats: 7, unit: 8 }, [])

  it('count note values from the bar’s start, in triplets too', () => {
    expect(onGrid(four, 3840 + 350, 'triplet')).toBe(3840 + 320)
    expect(onGrid(four, 3840 + 350, 'sixteenth')).toBe(3840 + 240)
    expect(onGrid(four, 3840 + 350, 'eighth')).toBe(3840 + 480)
    expect(gridStep(four, 0, 'triplet') * 3).toBe(960)
  })

  it('have the next bar as a place where the note value does not fill this one', () => {
    // A bar of 7/8 has 3360 ticks: ten and a half triplets of eighths.
    expect(onGrid(seven, 3310, 'triplet')).toBe(3360)
    expect(onGrid(seven, 3220, 'triplet')).toBe(3200)
  })

  it('leave a place as it is when snapping is off', () => {
    expect(onGrid(four, 1234, 'off')).toBe(1234)
  })
})
