// The changeover: its steps in walking order, and its clock.

import {
  changeoverSteps,
  clockText,
  freshCountdown,
  leftOf,
  pausedAt,
  startedAt,
} from '@glowchart/shared/check/changeover.ts'
import { groupsOf } from '@glowchart/shared/check/stations.ts'
import { expect, it } from 'vitest'
import { sampleRig } from '../rig/sampleRig.ts'

it('lists boxes, mains, DMX, stands, plugs and the check, with an outlet and a cable for each box', () => {
  const socket = { outputs: 6, sockets: [3, 3], universe: 1 }
  const { rig, kit } = sampleRig([
    { ...socket, address: 1 },
    { ...socket, address: 7 },
  ])
  kit.boxes.b1!.place = { x: 3, y: 4, z: 0 }
  const steps = changeoverSteps(rig, groupsOf(rig, kit))
  expect(steps.map(({ says }) => says)).toEqual([
    'Place Box 1',
    'Place Box 2',
    'Mains to Box 1 and Box 2: 2 outlets',
    'DMX 2 cables: node → Box 1 → Box 2',
    'Stands of Box 1: 2 lights',
    'Stands of Box 2: 2 lights',
    'Plug into Box 1, 1 2',
    'Plug into Box 2, 1 2',
    'Line check',
  ])
  expect(steps[2]!.note).toMatch(/licensed/)
  expect(steps[3]!.note).toMatch(/Box 1 to Box 2 5\.0 m.*trip hazard/)
})

it('has nothing to carry without a box', () => {
  const { rig, kit } = sampleRig([])
  expect(changeoverSteps(rig, groupsOf(rig, kit)).map(({ id }) => id)).toEqual(['check'])
})

it('counts down from five minutes, rests while paused, and counts up when it is over', () => {
  const started = startedAt(freshCountdown, 1000)
  expect(leftOf(started, 79_000)).toBe(222_000)
  const paused = pausedAt(started, 79_000)
  expect(leftOf(paused, 500_000)).toBe(222_000)
  const again = startedAt(paused, 500_000)
  expect(leftOf(again, 500_000 + 229_000)).toBe(-7000)
  expect([222_000, 221_001, 0, -999, -7000, 60_000].map(clockText)).toEqual([
    '3:42',
    '3:42',
    '0:00',
    '+0:00',
    '+0:07',
    '1:00',
  ])
})
