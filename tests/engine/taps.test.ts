// Tap tempo in the engine: three taps and more set the speed of what stands.

import { tempoTaps } from '@glowchart/server/engine/taps.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { expect, it } from 'vitest'
import { sampleShow } from '../advice/sampleShow.ts'

it('asks for the speed that makes the written tempo the tapped one, from the third tap on', () => {
  const timeline = timelineOf(sampleShow().show.songs.song!)
  const tap = tempoTaps()
  // 100 a minute in a song at 120.
  expect([0, 600, 1200, 1800].map(at => tap(at, timeline, 0))).toEqual([
    null,
    null,
    expect.closeTo(100 / 120, 9),
    expect.closeTo(100 / 120, 9),
  ])
  // After a pause it begins anew, and no faster than four times.
  expect(tap(60_000, timeline, 0)).toBeNull()
  tap(60_050, timeline, 0)
  expect(tap(60_100, timeline, 0)).toBeLessThanOrEqual(4)
})
