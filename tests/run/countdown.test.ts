// What is left to the next section, over meters, loops and vamps.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { countdownAt } from '@glowchart/shared/set/countdown.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'
import { ferryVamp } from './ferry.ts'

const { show } = demoBundle()
const porchlight = timelineOf(show.songs.porchlight!)
const free = { loop: null, released: null, repeated: null }
const BAR = 3840
const leftAt = (at: number, course = free) => countdownAt(porchlight, ticks(at), course)?.left

describe('the countdown', () => {
  it('counts whole bars after this one, and the beats of this one with the one that sounds', () => {
    const { start, bars } = porchlight.sections[1]!
    expect(leftAt(start)).toEqual({ bars: bars - 1, beats: 4 })
    expect(leftAt(start + 4 * BAR + 2 * 960 + 300)).toEqual({ bars: bars - 5, beats: 2 })
  })

  it('counts beats alone in the last bar: 4, 3, 2, 1', () => {
    const { end } = porchlight.sections[1]!
    expect([4, 3, 2, 1].map(n => leftAt(end - n * 960))).toEqual(
      [4, 3, 2, 1].map(beats => ({ bars: 0, beats })),
    )
  })

  it('counts the beats of every meter in its own unit', () => {
    for (const song of Object.values(show.songs)) {
      const timeline = timelineOf(song)
      for (const section of timeline.sections) {
        const first = countdownAt(timeline, section.start, free)!
        const meter = timeline.meters.findLast(m => m.bar <= section.firstBar)!.meter
        expect([first.beats, first.left]).toEqual([
          meter.beats,
          { bars: section.bars - 1, beats: meter.beats },
        ])
        expect(countdownAt(timeline, ticks(section.end - 1), free)!.left).toEqual({ bars: 0, beats: 1 })
      }
    }
  })

  it('names the round of a vamp, and counts down again once it is released', () => {
    const { timeline, vamp } = ferryVamp(show)
    const at = ticks(vamp.start + 10)
    expect(countdownAt(timeline, at, free)!.round).toBe(1)
    expect(countdownAt(timeline, at, { ...free, repeated: { from: vamp.start, times: 2 } })!.round).toBe(3)
    expect(countdownAt(timeline, at, { ...free, repeated: { from: 0, times: 2 } })!.round).toBe(1)
    const released = countdownAt(timeline, at, { ...free, released: vamp.id })!
    expect([released.round, released.next?.index]).toEqual([null, vamp.index + 1])
  })

  it('names the round of a repeated section, and the section itself as next where it comes once more', () => {
    const { id, start, end } = porchlight.sections[2]!
    const at = ticks(start + BAR)
    const loop = { from: start, to: end }
    expect(countdownAt(porchlight, at, { ...free, loop })!.round).toBe(1)
    const once = countdownAt(porchlight, at, { ...free, loop: { ...loop, once: true } })!
    expect([once.round, once.next?.id]).toEqual([null, id])
    // A loop elsewhere is none of this section's business.
    expect(countdownAt(porchlight, ticks(0), { ...free, loop })!.round).toBeNull()
  })

  it('is over at the end of the song', () => {
    expect(countdownAt(porchlight, porchlight.length, free)).toBeNull()
    expect(countdownAt(porchlight, ticks(porchlight.length - 1), free)!.next).toBeNull()
  })
})
