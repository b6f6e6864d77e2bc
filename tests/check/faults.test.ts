// The fault tree: every way through it ends in a remedy, and the remedies of swapped plugs put the kit right.

import type { FaultNode, Remedy, Sight } from '@glowchart/shared/check/fault-nodes.ts'
import { faultNodeAt } from '@glowchart/shared/check/fault-tree.ts'
import { orderSeen } from '@glowchart/shared/check/faults-of-plugs.ts'
import type { Raise } from '@glowchart/shared/check/raise.ts'
import { groupsOf } from '@glowchart/shared/check/stations.ts'
import { channelsOf, exchanged } from '@glowchart/shared/rig/channels.ts'
import { describe, expect, it } from 'vitest'
import { sampleRig } from '../rig/sampleRig.ts'

const socket = { outputs: 12, sockets: [3, 3, 3, 3] }
const { rig, kit } = sampleRig(
  [
    { ...socket, universe: 1, address: 1 },
    { ...socket, universe: 1, address: 13 },
  ],
  [{ universe: 2, address: 1, cells: 1 }],
)
rig.boxes.b0!.sockets[0]!.fuse = 5
const groups = groupsOf(rig, kit)

const sight = (key: string, raise: Raise): Sight => ({
  rig,
  kit,
  groups,
  raise,
  station: groups.flatMap(group => [...group.stations]).find(station => station.key === key)!,
})

const at = (key: string, raise: Raise, ...answers: string[]): FaultNode =>
  faultNodeAt(sight(key, raise), answers)

function leaves(node: FaultNode, depth = 0): Remedy[] {
  if (node.kind === 'remedy') return [node]
  expect(depth, node.asks).toBeLessThan(8)
  expect(node.answers.length, node.asks).toBeGreaterThan(1)
  expect(new Set(node.answers.map(({ id }) => id)).size, node.asks).toBe(node.answers.length)
  return node.answers.flatMap(answer => leaves(answer.next(), depth + 1))
}

describe('the fault tree', () => {
  it('ends every way in a cause and at least one thing to do, for sockets and guests, whatever was raised', () => {
    for (const key of ['b0/s1', 'b0/s2', 'guest/g0']) {
      for (const raise of ['red', 'green', 'blue', 'white'] as const) {
        const all = leaves(at(key, raise))
        expect(all.length).toBeGreaterThan(10)
        for (const { finds, steps } of all) {
          expect(finds).toMatch(/^[A-Z].*[^.]$/)
          expect(steps.length).toBeGreaterThan(0)
        }
      }
    }
  })

  it('blames the light when its colour is dark in another socket too, and keeps that with its serial', () => {
    expect(at('b0/s1', 'green', 'one', 'nowhere')).toMatchObject({ kind: 'remedy', fault: 'No green' })
    expect(at('b0/s1', 'green', 'one', 'there')).toMatchObject({ kind: 'remedy', fault: null })
    expect(at('b0/s1', 'white', 'one', 'blue', 'nowhere')).toMatchObject({ fault: 'No blue' })
  })

  it('asks about turn, fuse and common in this order, and about a fuse only where there is one', () => {
    const turned = at('b0/s1', 'red', 'whole')
    expect(turned).toMatchObject({ kind: 'question' })
    expect(turned.kind === 'question' && turned.knows).toContain(
      'Turned by 2 of 4: stays dark, its common is not on the supply.',
    )
    expect((at('b0/s1', 'red', 'whole', 'dark') as { asks: string }).asks).toContain('5 A')
    expect((at('b0/s2', 'red', 'whole', 'dark') as { asks: string }).asks).not.toContain('fuse')
  })

  it('draws the switches of a box that has supply and data', () => {
    expect(at('b1/s1', 'red', 'box', 'on', 'data')).toMatchObject({ switches: 'b1' })
  })

  it('leaves an answer off that leads nowhere', () => {
    expect(at('b0/s1', 'red', 'gone')).toMatchObject({ asks: 'What did you see?' })
  })
})

describe('swapped colours', () => {
  const orders = ['rgb', 'rbg', 'grb', 'gbr', 'brg', 'bgr'] as const
  const primaries = ['red', 'green', 'blue'] as const

  it('are put right from two colours seen: the order offered lights each colour by its name', () => {
    for (const wired of orders) {
      for (const before of orders) {
        // What is really wired to the outputs, and what the patch takes them for.
        const truth = exchanged(channelsOf('rgb', 1), wired)
        const taken = exchanged(channelsOf('rgb', 1), before)
        const seen = Object.fromEntries(
          primaries.map(raise => [raise, truth[taken.findIndex(({ does }) => does === raise)]!.does]),
        ) as Record<(typeof primaries)[number], (typeof primaries)[number]>
        expect(exchanged(channelsOf('rgb', 1), orderSeen(seen, before))).toEqual(truth)
      }
    }
  })

  it('are asked for with the second colour raised, and offered as tonight’s order', () => {
    const second = at('b0/s1', 'red', 'colour', 'green')
    expect(second).toMatchObject({ kind: 'question', raise: 'green' })
    expect(at('b0/s1', 'red', 'colour', 'green', 'red')).toMatchObject({
      kind: 'remedy',
      offer: { does: 'swap', order: 'grb' },
    })
  })
})

it('offers that two lights change sockets when the other one came on', () => {
  expect(at('b0/s1', 'red', 'other', 'b0/s3')).toMatchObject({
    finds: 'Tube 3 stands in Box 1, socket 1',
    offer: { does: 'exchange', with: 'b0/s3' },
  })
})
