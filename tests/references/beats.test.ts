// Beat finding against audio whose beats are known; the whole table is docs/beats.md (`npm run beats`).

import { steadyBeats } from '@glowchart/shared/beats/steady.ts'
import { findBeats } from '@glowchart/web/recording/find-beats.ts'
import { describe, expect, it } from 'vitest'
import { clicks } from '../recording/wave-file.ts'
import { testIf } from '../support/not-run.ts'
import { hasLoops, hasSongs, loops, playedSong } from './beat-audio.ts'
import { beatRow } from './beat-rows.ts'
import { fMeasure, tempoFactor } from './beat-score.ts'

const FRAME = 0.01

describe('clicks', () => {
  it.each([80, 100, 123.4, 176])(
    'are found at %d BPM to a tenth of a BPM, each within a hop of 10 ms',
    bpm => {
      const times = Array.from({ length: Math.floor((18 * bpm) / 60) }, (_, i) => 0.5 + (i * 60) / bpm)
      const beats = findBeats(clicks(times, 20), 'clicks', () => {})
      expect(tempoFactor(60 / steadyBeats(beats)!.interval, bpm)).toBe(1)
      expect(60 / steadyBeats(beats)!.interval).toBeCloseTo(bpm, 0)
      for (const beat of beats) {
        expect(Math.min(...times.map(time => Math.abs(time - beat)))).toBeLessThan(FRAME)
      }
    },
  )

  it('are found in pieces as in one', () => {
    const times = Array.from({ length: 50 }, (_, i) => 0.3 + i * 0.5)
    const shares: number[] = []
    // 25 s are three pieces.
    findBeats(clicks(times, 25), 'clicks', share => shares.push(share))
    expect(shares).toHaveLength(3)
    expect(shares.at(-1)).toBe(1)
  })

  it.each([
    { what: 'silence', samples: new Float32Array(44_100 * 8) },
    { what: 'nothing', samples: new Float32Array() },
    { what: 'one click', samples: clicks([1], 3) },
  ])('are not found in $what, and the error says so', ({ samples }) => {
    expect(() => findBeats(samples, 'take', () => {})).toThrow(
      expect.objectContaining({ code: 'audio.noBeats', where: 'take' }),
    )
  })
})

describe('the measures', () => {
  it('count a beat as found at 70 ms and not at 71, and each once', () => {
    const truth = [6, 7, 8, 9]
    expect(
      fMeasure(
        [6.07, 7.07, 8.07, 9.07].map(t => t - 1e-9),
        truth,
      ),
    ).toBe(1)
    expect(fMeasure([6.071, 7.071, 8.071, 9.071], truth)).toBe(0)
    expect(fMeasure([6, 6.01, 7, 8], truth)).toBe(0.75)
    expect(fMeasure([], truth)).toBe(0)
    expect(fMeasure([1, 2, 6, 7, 8, 9], [0.5, ...truth])).toBe(1)
  })

  it('know a tempo by its factor within 4 %', () => {
    expect([124.7, 62, 241, 41, 362, 126, 90].map(found => tempoFactor(found, 120))).toEqual([
      1,
      1 / 2,
      2,
      1 / 3,
      3,
      null,
      null,
    ])
  })
})

describe('recordings', () => {
  testIf(
    hasLoops(),
    'beats found in loops of known tempo',
    'apt-get install sonic-pi-samples',
  )('of loops: the tempo is right with metrical factors', async () => {
    const known = await loops(['loop_amen_full', 'loop_breakbeat', 'loop_compus', 'loop_mika'], 20)
    const rows = known.map(beatRow)
    console.table(rows)
    expect(rows.filter(row => row.factor !== null).length).toBeGreaterThanOrEqual(3)
    expect(rows.filter(row => row.best > 0.95).length).toBeGreaterThanOrEqual(3)
  })

  testIf(
    hasSongs(),
    'beats found in MIDI files as played',
    'apt-get install fluidsynth timgm6mb-soundfont openttd-openmsx',
  )(
    'of songs: the tempo is right with metrical factors, and the beats after the rate is chosen',
    async () => {
      const rows = []
      for (const name of SAMPLE) rows.push(beatRow(playedSong(name, 20)))
      console.table(rows)
      expect(rows.filter(row => row.factor !== null).length).toBeGreaterThanOrEqual(3)
      expect(rows.filter(row => row.best > 0.95).length).toBeGreaterThanOrEqual(3)
    },
  )
})

const SAMPLE = ['chuggachugga.mid', 'the_fast_route.mid', 'modern_motion.mid', 'city_blues_redfarn.mid']
