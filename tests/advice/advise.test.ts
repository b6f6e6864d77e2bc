// Advice on whole shows, through the real renderer.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { adviceSteps, adviseShow } from '@glowchart/shared/advice/advise.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { cueSchema } from '@glowchart/shared/show/song.ts'
import { describe, expect, it } from 'vitest'
import { sampleShow } from './sampleShow.ts'

const BAR = 3840

const advise = ({ rig, show }: ReturnType<typeof sampleShow>): Advice[] => adviseShow(rig, show, 'kit')

/** Puts a strobe of one division (flashes in a quarter note) on the high tubes, in bars 2 and 3. */
function strobe(show: Show, flashesPerBeat: number, light: object = {}): void {
  show.songs.song!.sections.verse!.cues.first = cueSchema.parse({
    track: 'high',
    at: BAR,
    length: 2 * BAR,
    light: {
      level: 1,
      colours: { along: 'none', colour: { hex: '#ffffff' } },
      motion: { kind: 'strobe', rate: { ticks: 960 / flashesPerBeat }, spread: 0 },
      ...light,
    },
  })
}

it('says nothing of a show with nothing wrong', () => {
  expect(advise(sampleShow())).toEqual([])
})

// Computed: 120 BPM is 2 beats a second. Limits: W3C WCAG 2.2 and ITU-R BT.1702-3, 3 flashes a second; UK HSE advice as
// the Epilepsy Society gives it, 4 a second. Adapted: none of these standards covers stage lamps.
describe('a strobe at 120 BPM on half of the stage', () => {
  it.each([
    ['quarter notes, 2 a second', 1, undefined],
    ['eighth notes, 4 a second', 2, 'heed'],
    ['eighth-note triplets, 6 a second', 3, 'stop'],
    ['sixteenth notes, 8 a second', 4, 'stop'],
    ['thirty-second notes, 16 a second', 8, 'stop'],
  ] as const)('in %s', (_, flashesPerBeat, severity) => {
    const sample = sampleShow()
    strobe(sample.show, flashesPerBeat)
    const advice = advise(sample)
    expect(advice.map(a => a.severity)).toEqual(severity === undefined ? [] : [severity])
    if (severity === undefined) return
    expect(advice[0]!.place).toEqual({
      song: 'song',
      section: 'verse',
      bars: [{ from: 2, to: 3 }],
      parts: ['high'],
      cues: [{ section: 'verse', cue: 'first' }],
    })
    expect(advice[0]!.says).toContain(
      `the whole stage, up to ${2 * flashesPerBeat} flashes a second, by High tubes`,
    )
  })

  it('is found in full blue, where the published rules see no flash', () => {
    const sample = sampleShow()
    strobe(sample.show, 4, { colours: { along: 'none', colour: { hex: '#0000ff' } } })
    expect(advise(sample)).toMatchObject([
      { kind: 'fastFlashes', says: expect.stringContaining('in one colour') },
    ])
  })

  it('is no flash where trims make the whole of it too dim', () => {
    const sample = sampleShow()
    strobe(sample.show, 4)
    for (const box of Object.values(sample.show.kits.kit!.boxes)) {
      for (const stand of Object.values(box.sockets)) stand.trim = 0.3
    }
    expect(advise(sample)).toEqual([])
  })
})

it('says everything that is wrong at once, tonight before the songs', () => {
  const sample = sampleShow()
  strobe(sample.show, 4)
  sample.rig.boxes.b1!.address = 20
  sample.rig.fixtures.t0!.faults = [{ at: '2031-05-04T10:00:00Z', what: 'no blue' }]
  sample.show.kits.kit!.parts.low!.fixtures = []
  expect(advise(sample).map(a => a.kind)).toEqual([
    'overlap',
    'emptyPart',
    'openFault',
    'darkCues',
    'fastFlashes',
  ])
})

it('advises on a stage with nothing on it', () => {
  const sample = sampleShow()
  sample.show.kits.kit!.boxes = {}
  for (const part of Object.values(sample.show.kits.kit!.parts)) part.fixtures = []
  expect(advise(sample).map(a => a.kind)).toEqual(['emptyPart', 'emptyPart', 'darkCues', 'darkCues'])
})

it('reports its progress, and can be left at any of its steps', () => {
  const { rig, show } = sampleShow()
  const seen: unknown[] = []
  adviseShow(rig, show, 'kit', progress => seen.push(progress))
  expect(seen).toEqual([0, 200, 400, 600, 800].map(frames => ({ song: 'song', frames, of: 24 * 40 })))
  const steps = adviceSteps(rig, show, 'kit')
  expect([steps.next().value, steps.next().value]).toEqual(seen.slice(0, 2))
  expect(steps.return([]).done).toBe(true)
})

it('refuses a kit that the show has not', () => {
  const { rig, show } = sampleShow()
  expect(() => adviseShow(rig, show, 'van')).toThrowError(expect.objectContaining({ code: 'kit.unknown' }))
  expect(() => adviseShow(rig, show, 'van')).toThrowError(CodedError)
})
