// Advice on what stands tonight: clashes, parts, faults, and cues that stay dark.

import { cuesAdvice } from '@glowchart/shared/advice/cues.ts'
import { faultsAdvice } from '@glowchart/shared/advice/faults.ts'
import { partsAdvice } from '@glowchart/shared/advice/parts.ts'
import { patchAdvice } from '@glowchart/shared/advice/patch.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import { expect, it } from 'vitest'
import { sampleShow } from './sampleShow.ts'

/** All advice of these kinds after a change of the sample. */
function adviceAfter(
  change: (sample: ReturnType<typeof sampleShow> & { kit: ReturnType<typeof kitOf> }) => void,
) {
  const sample = sampleShow()
  const kit = kitOf(sample)
  change({ ...sample, kit })
  const { rig, show } = sample
  const stage = stageOf(rig, kit)
  return [
    ...patchAdvice(rig, kit),
    ...partsAdvice(rig, show, kit, stage),
    ...show.songOrder.flatMap(song => cuesAdvice(show, stage, song)),
    ...faultsAdvice(rig, stage),
  ]
}
const kitOf = ({ show }: ReturnType<typeof sampleShow>) => show.kits.kit!

it('says nothing when nothing is wrong', () => {
  expect(adviceAfter(() => {})).toEqual([])
})

it('stops on a clash and names both boxes', () => {
  const advice = adviceAfter(({ rig }) => {
    rig.boxes.b1!.address = 20
  })
  expect(advice).toEqual([
    {
      kind: 'overlap',
      severity: 'stop',
      place: { universe: 1, address: 20, boxes: ['b1', 'b0'] },
      says: 'Box 1 (1 to 24) and Box 2 (20 to 43) both listen to addresses 20 to 24 of universe 1.',
      remedy: 'Set Box 2 to address 25, here and on the device, or move it to another universe.',
    },
  ])
})

it('names the 512 slots of ANSI E1.11 when a box runs past them', () => {
  const advice = adviceAfter(({ rig }) => {
    rig.boxes.b1!.address = 500
  })
  expect(advice).toMatchObject([{ kind: 'past512', source: expect.stringContaining('ANSI E1.11') }])
})

it('says which part is empty, and in which bars of which song its cues stay dark', () => {
  const advice = adviceAfter(({ kit }) => {
    kit.parts.low!.fixtures = []
  })
  expect(advice).toEqual([
    expect.objectContaining({
      kind: 'emptyPart',
      severity: 'heed',
      place: { parts: ['low'] },
      says: 'No fixture for Low tubes in “Tonight”, and no stand-in.',
    }),
    expect.objectContaining({
      kind: 'darkCues',
      place: {
        song: 'song',
        section: 'verse',
        bars: [{ from: 5, to: 8 }],
        parts: ['low'],
        cues: [{ section: 'verse', cue: 'second' }],
      },
      says: '“Marmalade Weather”, bars 5 to 8: no light for Low tubes tonight, so 1 cue stays dark.',
    }),
  ])
})

it('only notes an empty part that no song plays', () => {
  const advice = adviceAfter(({ show }) => {
    show.parts.spare = { name: 'Spare' }
    show.partOrder.push('spare')
  })
  expect(advice.map(a => [a.kind, a.severity])).toEqual([['emptyPart', 'note']])
})

it('counts neither muted tracks nor cues at level 0 as light', () => {
  const advice = adviceAfter(({ show, kit }) => {
    kit.parts.low!.fixtures = []
    kit.parts.high!.fixtures = []
    show.songs.song!.tracks.high!.muted = true
    const { light } = show.songs.song!.sections.verse!.cues.second!
    if ('level' in light) light.level = 0
  })
  expect(advice.map(a => a.kind)).toEqual(['emptyPart', 'emptyPart'])
})

it('names every place of a repeated section where light is missing', () => {
  const advice = adviceAfter(({ show, kit }) => {
    kit.parts.low!.fixtures = []
    const song = show.songs.song!
    song.sections.again = {
      ...song.sections.end!,
      bars: 8,
      cues: {},
      sameAs: { section: 'verse', swatches: {}, trim: 1, freed: [] },
    }
    song.sectionOrder.push('again')
  })
  expect(advice.find(a => a.kind === 'darkCues')!.says).toContain('bars 5 to 8, 17 to 20:')
})

it('says nothing of an empty part whose stand-in plays', () => {
  const advice = adviceAfter(({ kit }) => {
    kit.parts.low = { fixtures: [], cyclic: false, standIn: 'high' }
  })
  expect(advice).toEqual([])
})

it('names the parts of a circle of stand-ins once', () => {
  const advice = adviceAfter(({ kit }) => {
    kit.parts.low = { fixtures: [], cyclic: false, standIn: 'high' }
    kit.parts.high = { fixtures: [], cyclic: false, standIn: 'low' }
  })
  expect(advice.filter(a => a.kind === 'standInCircle')).toMatchObject([
    {
      place: { parts: ['high', 'low'] },
      says: 'High tubes and Low tubes are empty tonight and stand in for each other, so they stay dark.',
    },
  ])
  expect(advice.some(a => a.kind === 'emptyPart')).toBe(false)
})

it('lets two parts stand in for each other while one has light', () => {
  const advice = adviceAfter(({ kit }) => {
    kit.parts.low = { fixtures: [], cyclic: false, standIn: 'high' }
    kit.parts.high!.standIn = 'low'
  })
  expect(advice).toEqual([])
})

it('tells a fixture nobody has from one that stays in the van, and finds one that is listed twice', () => {
  const advice = adviceAfter(({ kit }) => {
    kit.parts.low!.fixtures.push('ghost', 't8')
    delete kit.boxes.b1!.sockets.s2
  })
  expect(advice.map(a => [a.kind, a.place.fixtures, a.says])).toEqual([
    ['memberTwice', ['t8'], 'Tube 9 is in Low tubes 2 times: only its first place counts.'],
    ['memberAbsent', ['t9'], 'Tube 10 is in Low tubes, but does not stand in “Tonight”.'],
    [
      'memberUnknown',
      ['ghost'],
      'The fixture “ghost” is in Low tubes, but neither the rig nor “Tonight” has it.',
    ],
  ])
})

it('reports the open faults of what stands tonight, not of what stays home', () => {
  const faults = [{ at: '2031-05-04T10:00:00Z', what: 'flickers when warm' }]
  const advice = adviceAfter(({ rig, kit }) => {
    rig.fixtures.t3!.faults = faults
    rig.fixtures.t9!.faults = faults
    delete kit.boxes.b1!.sockets.s2
    kit.parts.low!.fixtures = kit.parts.low!.fixtures.filter(id => id !== 't9')
  })
  expect(advice.map(a => a.says)).toEqual([
    'Tube 4 (serial T-t3) stands tonight with a fault open since 2031-05-04: flickers when warm',
  ])
})
