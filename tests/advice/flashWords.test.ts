// What is said of flashes: at the widest scope that shows them, once a stretch, with bars, limits and cues.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { FlashMeter } from '@glowchart/shared/advice/flash/meter.ts'
import { fluxOf, ScopeMixer, scopesOf } from '@glowchart/shared/advice/flash/scopes.ts'
import { flashAdvice } from '@glowchart/shared/advice/flash/words.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { expect, it } from 'vitest'
import { sampleShow } from './sampleShow.ts'

const RATE = 40
type Rgb = readonly [number, number, number]

/** Advice on the sample song (24 s, 2 s a bar) with this light: fixture 0…15, seconds from the song's start. */
function adviceOn(light: (fixture: number, seconds: number) => Rgb): Advice[] {
  const { rig, show } = sampleShow()
  const stage = stageOf(rig, show.kits.kit!)
  const scopes = scopesOf(stage)
  const mixer = new ScopeMixer(stage, scopes, fluxOf(rig, stage))
  const meter = new FlashMeter(scopes.length, RATE)
  const cells = new Float32Array(3 * stage.cells)
  const mixed = new Float32Array(3 * scopes.length)
  for (let n = 0; n < 24 * RATE; n++) {
    stage.fixtures.forEach((_, f) => {
      cells.set(light(f, n / RATE), 3 * f)
    })
    mixer.mix(cells, mixed)
    meter.feed(mixed)
  }
  return flashAdvice({
    show,
    song: 'song',
    kit: 'kit',
    stage,
    timeline: timelineOf(show.songs.song!),
    rate: RATE,
    scopes,
    meter,
    held: [],
    peaks: [],
  })
}

const grey = (v: number): Rgb => [v, v, v]
const isOn = (seconds: number, hz: number) => Math.floor(2 * hz * seconds + 1e-9) % 2 === 1
const between = (s: number, from: number, to: number) => s >= from && s < to

it('says nothing of light that stands or breathes', () => {
  expect(adviceOn((_, s) => grey(0.5 + 0.5 * Math.sin(2 * Math.PI * s)))).toEqual([])
})

it('says it once of the whole stage, with bars, both limits, the parts and the cues behind it', () => {
  const [advice, ...rest] = adviceOn((_, s) => grey(between(s, 2, 5.9) && isOn(s, 8) ? 1 : 0))
  expect(rest).toEqual([])
  expect(advice).toEqual({
    kind: 'fastFlashes',
    severity: 'stop',
    flashes: 8,
    brief: '8 flashes/s, limit 3',
    place: {
      song: 'song',
      section: 'verse',
      bars: [{ from: 2, to: 3 }],
      parts: ['high', 'low'],
      cues: [{ section: 'verse', cue: 'first' }],
    },
    says: '“Marmalade Weather”, bars 2 to 3: the whole stage, up to 8 flashes a second, by High tubes and Low tubes. Limit 3, at most 4.',
    remedy:
      'At 120 BPM, flash in 1/4 notes or slower, or give the motion a high floor so that the change is small, or spread it so that the lights take turns. If it stays, post a notice at the entrance and follow the rules of the venue.',
    source: expect.stringMatching(
      /WCAG 2\.2.*BT\.1702-3.*UK HSE.*adapted: none of these standards covers stage lamps/,
    ),
  })
})

it('heeds, and does not stop on, four flashes a second: within the venue limit', () => {
  const advice = adviceOn((_, s) => grey(between(s, 2, 4) && isOn(s, 4) ? 1 : 0))
  expect(advice).toMatchObject([
    { severity: 'heed', says: expect.stringContaining('up to 4 flashes a second') },
  ])
  expect(advice[0]!.says).toMatch(/Limit 3\.$/)
})

it('names the part that makes the stage flash', () => {
  const advice = adviceOn((f, s) => grey(f < 8 ? 0.3 : between(s, 8, 10) && isOn(s, 8) ? 1 : 0))
  expect(advice).toMatchObject([
    { place: { bars: [{ from: 5, to: 5 }], parts: ['low'], cues: [{ section: 'verse', cue: 'second' }] } },
  ])
})

it('speaks of a part whose flashes even out over the stage', () => {
  const advice = adviceOn((f, s) => grey(between(s, 2, 4) && isOn(s, 8) === f < 8 ? 1 : 0))
  expect(advice.filter(a => a.severity === 'stop')).toEqual([])
  expect(advice.map(a => a.place.parts)).toEqual([['low'], ['high']])
})

it('speaks of the fixtures, in one piece, when neither their part nor the stage flashes', () => {
  const advice = adviceOn((f, s) =>
    grey(f < 2 && between(s, 2, 4) && isOn(s + (f === 0 ? 0 : 1 / 16), 8) ? 1 : 0),
  )
  expect(advice).toHaveLength(1)
  expect(advice[0]).toMatchObject({ severity: 'heed', place: { fixtures: ['t0', 't1'], parts: ['high'] } })
  expect(advice[0]!.says).toContain('Tube 1 and Tube 2, up to 8 flashes a second.')
})

it('gives two pieces for two stretches with bars between them', () => {
  const advice = adviceOn((_, s) => grey((between(s, 2, 4) || between(s, 16, 18)) && isOn(s, 8) ? 1 : 0))
  expect(advice.map(a => a.place.bars)).toEqual([[{ from: 2, to: 2 }], [{ from: 9, to: 9 }]])
})

it('says when the flashes are saturated red', () => {
  const advice = adviceOn((_, s) => [between(s, 2, 4) && isOn(s, 5) ? 0.4 : 0, 0, 0])
  expect(advice).toMatchObject([{ says: expect.stringContaining('in saturated red') }])
})

it('finds the blue strobe that the published rules miss, and says that this rule is its own', () => {
  const advice = adviceOn((_, s) => [0, 0, between(s, 2, 4) && isOn(s, 5) ? 1 : 0])
  expect(advice).toMatchObject([
    { says: expect.stringContaining('in one colour'), source: expect.stringContaining("Glowchart's own") },
  ])
})

it('warns of slow flashing that goes on for more than 5 s (ITU-R BT.1702-3)', () => {
  const advice = adviceOn((_, s) => grey(between(s, 2, 12) && isOn(s, 3) ? 1 : 0))
  expect(advice).toMatchObject([
    { kind: 'longFlashing', severity: 'heed', source: expect.stringContaining('ITU-R BT.1702-3') },
  ])
  expect(advice[0]!.says).toMatch(/the whole stage, flashing for 10 s without a pause/)
})
