// The slot walk: a made-up fixture answers as a real one would, and the build that comes out plays it.

import { CodedError } from '@glowchart/shared/errors.ts'
import { checkLevels } from '@glowchart/shared/render/check.ts'
import { levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { newBuild } from '@glowchart/shared/rig/build-new.ts'
import {
  answered,
  atSlot,
  begunWalk,
  channelsOfWalk,
  mostSlots,
  type Seen,
  staying,
  type Walk,
  walkCheck,
} from '@glowchart/shared/rig/build-walk.ts'
import { describe, expect, it } from 'vitest'
import { sampleRig } from './sampleRig.ts'

const walkOf = (...answers: Seen[]): Walk => answers.reduce(answered, begunWalk(1, 101))
const sent = (walk: Walk) => walkCheck(walk).slots.map(slot => [slot.address, slot.value])

describe('a slot walk', () => {
  it('raises one slot at a time and lowers it again', () => {
    let walk = begunWalk(3, 101)
    expect(walkCheck(walk).slots).toEqual([{ universe: 3, address: 101, value: 1 }])
    walk = answered(walk, 'red')
    expect(sent(walk)).toEqual([
      [101, 0],
      [102, 1],
    ])
  })

  it('leaves a dimmer up, and what is said to stay', () => {
    let walk = { ...walkOf('brighter'), value: 0.4 }
    walk = answered(walk, 'nothing')
    expect(sent(walk)).toEqual([
      [101, 1],
      [102, 0],
      [103, 1],
    ])
    walk = staying(walk, 1, true)
    expect(sent(walk)[1]).toEqual([102, 0.4])
  })

  it('goes back to a slot at the value it had, and never past the first that was not answered', () => {
    const walk = answered({ ...walkOf('brighter'), value: 0.4 }, 'moved')
    expect(atSlot(walk, 1)).toMatchObject({ at: 1, value: 0.4 })
    expect(atSlot(walk, 9)).toMatchObject({ at: 2, value: 1 })
    expect(answered(atSlot(walk, 0), 'white').slots.map(slot => slot.seen)).toEqual(['white', 'moved'])
  })

  it('ends with the universe', () => {
    let walk = begunWalk(1, 511)
    for (const what of ['red', 'green', 'blue'] as const) walk = answered(walk, what)
    expect(mostSlots(walk)).toBe(2)
    expect(walk.slots.map(slot => slot.seen)).toEqual(['red', 'blue'])
    for (const { address } of walkCheck(walk).slots) expect(address).toBeLessThanOrEqual(512)
  })
})

describe('the build that a walk ends in', () => {
  it('has a cell for every red, green and blue, one dimmer, and the rest parked', () => {
    const walk = walkOf(
      'brighter',
      'strobes',
      'red',
      'green',
      'blue',
      'red',
      'green',
      'blue',
      'moved',
      'brighter',
    )
    expect(channelsOfWalk(walk)).toEqual({
      cells: 2,
      channels: [
        { does: 'intensity', bits: 8 },
        { does: 'fixed', value: 0, label: 'Strobe', bits: 8 },
        ...[0, 1].flatMap(cell =>
          (['red', 'green', 'blue'] as const).map(does => ({ does, cell, bits: 8 as const })),
        ),
        { does: 'fixed', value: 0.5, label: 'Moves', bits: 8 },
        { does: 'fixed', value: 1, label: 'Dimmer', bits: 8 },
      ],
    })
  })

  it('keeps a shutter open that had to stand open for anything to be seen', () => {
    const walk = staying(answered({ ...walkOf(), value: 0.5 }, 'nothing'), 0, true)
    expect(channelsOfWalk(answered(walk, 'white')).channels).toEqual([
      { does: 'fixed', value: 0.5, label: 'Nothing seen', bits: 8 },
      { does: 'white', cell: 0, bits: 8 },
    ])
  })

  it('is refused while nothing gave light', () => {
    const refused = (walk: Walk) => {
      try {
        channelsOfWalk(walk)
      } catch (error) {
        return error instanceof CodedError ? error.problem.code : error
      }
    }
    expect(refused(walkOf('nothing', 'moved'))).toBe('walk.noLight')
    expect(refused(begunWalk(1, 1))).toBe('walk.noLight')
  })

  it('plays the fixture: red light raises the slot that was seen to be red, its dimmer, and no other', () => {
    const { rig, kit } = sampleRig([], [{ universe: 1, address: 101, cells: 1 }])
    const found = channelsOfWalk(walkOf('brighter', 'strobes', 'blue', 'green', 'red'))
    const walked = { ...rig, builds: { ...rig.builds, bar0: { ...newBuild('panel', {}), ...found } } }
    const plan = levelPlan(walked, kit)
    const out = new Uint8Array(512)
    toLevels(plan, Float32Array.of(1, 0, 0), out)
    expect([...out.subarray(100, 105)]).toEqual([255, 0, 0, 0, 255])
    checkLevels(plan, walkCheck(begunWalk(1, 103)), out)
    expect([...out.subarray(100, 105)]).toEqual([0, 0, 255, 0, 0])
  })
})
