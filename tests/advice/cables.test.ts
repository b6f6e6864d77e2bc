// Advice on cables that are too short: told with the figures, and only while it is so.

import { cablesAdvice } from '@glowchart/shared/advice/cables.ts'
import { expect, it } from 'vitest'
import { sampleRig } from '../rig/sampleRig.ts'

const { rig, kit } = sampleRig([{ outputs: 3, universe: 1, address: 1, sockets: [3] }])
const box = kit.boxes.b0!
/** Cables are 6.1 m; the box stands at (0, 0), 1 m up. */
const at = (x: number, y: number, z: number, missing = false) => ({
  ...kit,
  boxes: { b0: { ...box, sockets: { s1: { ...box.sockets.s1!, place: { x, y, z }, missing } } } },
})

it('is silent while the cable reaches along the floor and up', () => {
  expect(cablesAdvice(rig, at(3, 4, 2))).toEqual([])
})

it('names socket, length, what is missing and the way', () => {
  const [advice, ...more] = cablesAdvice(rig, at(3, 4, 3))
  expect(more).toEqual([])
  expect(advice).toMatchObject({
    kind: 'cableShort',
    severity: 'heed',
    place: { boxes: ['b0'], socket: 's1', fixtures: ['t0'] },
    says: 'Box 1, socket 1: the cable of 6.1 m is 0.9 m too short for Tube 1, 5 m away and 2 m up.',
  })
})

it('says nothing of a light that is missing tonight', () => {
  expect(cablesAdvice(rig, at(3, 4, 3, true))).toEqual([])
})
