// What stays in the van, and what the next fixture of a build is called.

import { patch } from '@glowchart/shared/rig/patch.ts'
import { nextOf, stockOf } from '@glowchart/shared/rig/spares.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import { describe, expect, it } from 'vitest'
import { sampleRig } from './sampleRig.ts'

const { rig, kit } = sampleRig([{ outputs: 9, universe: 1, address: 1, sockets: [3, 3, 3], filled: 2 }])
const more = (...serials: string[]) => ({
  ...rig,
  fixtures: {
    ...rig.fixtures,
    ...Object.fromEntries(
      serials.map(serial => [serial, { name: `Tube ${serial}`, build: 'tube', serial, faults: [] }]),
    ),
  },
})

describe('the stock of a build', () => {
  it('tells what stands in a socket from what is spare, in the order of the serials as numbers', () => {
    expect(stockOf(more('T-10', 'T-9'), kit, 'tube')).toEqual({
      standing: ['t0', 't1'],
      spare: ['T-9', 'T-10'],
    })
  })

  it('goes on from the last serial and name, in as many digits', () => {
    const owned = {
      ...rig,
      fixtures: { a: { name: 'Tube 7', build: 'tube', serial: 'TU-007', faults: [] } },
    }
    expect(nextOf(owned, 'tube')).toEqual({ name: 'Tube 8', build: 'tube', serial: 'TU-008', faults: [] })
  })

  it('begins at 1 with the name of the build, without what comes after a comma', () => {
    const builds = { tube: { ...rig.builds.tube!, name: 'Wand, 2 m' } }
    const owned = { ...rig, builds, fixtures: {} }
    expect(nextOf(owned, 'tube')).toMatchObject({ name: 'Wand 1', serial: 'WA-001' })
  })

  it('never gives a serial that a fixture of another build has', () => {
    const other = { name: 'Other', build: 'bar', serial: 'TU-008', faults: [] }
    const last = { name: 'Tube 7', build: 'tube', serial: 'TU-007', faults: [] }
    expect(nextOf({ ...rig, fixtures: { last, other } }, 'tube').serial).toBe('TU-009')
  })
})

describe('a fixture that is missing tonight', () => {
  const box = kit.boxes.b0!
  const away = { ...box.sockets.s1!, missing: true }
  const without = { ...kit, boxes: { b0: { ...box, sockets: { ...box.sockets, s1: away } } } }

  it('keeps its socket, so that it is no spare, and is on neither the stage nor the wire', () => {
    expect(stockOf(rig, without, 'tube').standing).toContain('t0')
    expect(stageOf(rig, kit).fixtures.map(f => f.id)).toEqual(['t0', 't1'])
    expect(stageOf(rig, without).fixtures.map(f => f.id)).toEqual(['t1'])
    expect(patch(rig, without).entries.map(e => [e.fixture, e.address])).toEqual([['t1', 4]])
  })
})
