// A box dies: one edit gives its places in the parts to what is left, another gives them back.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { boxIsOut } from '@glowchart/shared/rig/dead-box.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import { expect, it } from 'vitest'

/** The demo with all rings on the left box, so that its death leaves that part without a light. */
function ringsOnTheLeft(): Documents {
  const documents = demoBundle()
  documents.show.kits.full!.parts.rings!.fixtures = ['ring1']
  return documents
}

const played = ({ rig, show }: Documents, part: string): string[] => {
  const stage = stageOf(rig, show.kits.full!)
  return stage.parts[part]!.fixtures.map(index => stage.fixtures[index]!.id)
}
const left = { kit: 'full', box: 'left' }

it('the parts play over the lights that are left, and an emptied part over those of its nearest neighbour', () => {
  const { next, says } = applyEdit(ringsOnTheLeft(), 'playWithoutBox', left)
  expect(says).toMatch(/^Play without /)
  expect(played(next, 'letters')).toEqual(['letters3'])
  expect(played(next, 'tubes')).toEqual(['tube3', 'tube4', 'tube5'])
  // Nearest in the chart's order: bulbs and tubes are as near; the tubes left are more.
  expect(next.show.kits.full!.parts.rings!.standIn).toBe('tubes')
  expect(played(next, 'rings')).toEqual(played(next, 'tubes'))
  expect(boxIsOut(next.show.kits.full!, 'left')).toBe(true)
  expect(boxIsOut(next.show.kits.full!, 'right')).toBe(false)
})

it('the box back, every part plays on its own lights again', () => {
  const before = ringsOnTheLeft()
  const { next } = applyEdit(applyEdit(before, 'playWithoutBox', left).next, 'playWithBox', left)
  for (const part of before.show.partOrder) expect(played(next, part)).toEqual(played(before, part))
  expect(boxIsOut(next.show.kits.full!, 'left')).toBe(false)
})

it('the box back, what was missing before it died is missing still', () => {
  const documents = ringsOnTheLeft()
  const { sockets } = documents.show.kits.full!.boxes.left!
  const socket = Object.keys(sockets).find(id => sockets[id]!.fixture === 'tube1')!
  const stand = { ...sockets[socket]!, missing: true }
  const before = applyEdit(documents, 'setStand', { ...left, socket, stand }).next
  const dead = applyEdit(applyEdit(before, 'playWithoutBox', left).next, 'playWithoutBox', left).next
  expect(played(dead, 'tubes')).toEqual(['tube3', 'tube4', 'tube5'])
  const { show } = applyEdit(dead, 'playWithBox', left).next
  expect(show.kits.full!.boxes).toEqual(before.show.kits.full!.boxes)
})

it('the last box dead, nothing stands in for anything, and a box that is not out is refused', () => {
  const dark = applyEdit(applyEdit(ringsOnTheLeft(), 'playWithoutBox', left).next, 'playWithoutBox', {
    kit: 'full',
    box: 'right',
  }).next
  for (const part of dark.show.partOrder) expect(played(dark, part)).toEqual([])
  expect(() => applyEdit(dark, 'playWithoutBox', { kit: 'full', box: 'fly' })).toThrow(/no box "fly"/)
})
