// Where a line check goes and what it raises there: the walk, the places in words, the slots, the glow.

import { glowOf, raised, raisesOf } from '@glowchart/shared/check/raise.ts'
import { slotText } from '@glowchart/shared/check/slots.ts'
import { groupsOf, type Station } from '@glowchart/shared/check/stations.ts'
import { checkLevels } from '@glowchart/shared/render/check.ts'
import { levelPlan } from '@glowchart/shared/render/level-plan.ts'
import { channelsOf } from '@glowchart/shared/rig/channels.ts'
import { describe, expect, it } from 'vitest'
import { type BoxPlan, type GuestPlan, sampleRig } from '../rig/sampleRig.ts'

const box = (address: number, more: Partial<BoxPlan> = {}): BoxPlan => ({
  outputs: 12,
  universe: 1,
  address,
  sockets: [3, 3, 3, 3],
  ...more,
})

function sample(boxes: readonly BoxPlan[], xs: readonly number[], guests: readonly GuestPlan[] = []) {
  const { rig, kit } = sampleRig(boxes, guests)
  xs.forEach((x, i) => {
    kit.boxes[`b${i}`]!.place = { x, y: 1, z: 0 }
  })
  return { rig, kit, groups: groupsOf(rig, kit) }
}

const stations = (groups: ReturnType<typeof groupsOf>): Station[] => groups.flatMap(g => [...g.stations])

/** Slots that are not 0 on the wire, 1-based → value. */
function lit({ rig, kit }: ReturnType<typeof sample>, check: Parameters<typeof checkLevels>[1]) {
  const plan = levelPlan(rig, kit)
  const levels = new Uint8Array(plan.universes.length * 512)
  checkLevels(plan, check, levels)
  return Object.fromEntries([...levels].flatMap((value, i) => (value > 0 ? [[i + 1, value]] : [])))
}

describe('the walk', () => {
  it('goes from the first box of the patch to the nearest each time, sockets in order, guests last', () => {
    const { groups } = sample(
      [box(1), box(13), box(25), box(37)],
      [-3, 3, -2, 0],
      [{ universe: 1, address: 101, cells: 1 }],
    )
    expect(groups.map(({ box }) => box)).toEqual(['b0', 'b2', 'b3', 'b1', null])
    expect(groups[1]!.stations.map(({ label }) => label)).toEqual(['1', '2', '3', '4'])
    expect(groups[4]!.stations.map(({ name }) => name)).toEqual(['Guest 1'])
  })

  it('keeps empty sockets in their place, with the slots that they have', () => {
    const { groups } = sample([box(1, { filled: 2 })], [0])
    expect(
      stations(groups).map(({ name, fixture, slots }) => [name, fixture, slots.first, slots.last]),
    ).toEqual([
      ['Tube 1', 't0', 1, 3],
      ['Tube 2', 't1', 4, 6],
      ['Empty', null, 7, 9],
      ['Empty', null, 10, 12],
    ])
  })

  it('says where a light stands as the stage says it: the player’s right is the house’s left', () => {
    const { rig, kit } = sampleRig([box(1, { filled: 3 })])
    const sockets = kit.boxes.b0!.sockets
    sockets.s1!.place = { x: 3, y: 4.5, z: 0 }
    sockets.s2!.place = { x: -3, y: 0.5, z: 2.5 }
    sockets.s3!.place = { x: 0, y: 2.5, z: 0 }
    kit.boxes.b0!.place = { x: -3.5, y: 4, z: 0 }
    const group = groupsOf(rig, kit)[0]!
    expect(group.where).toBe('Upstage, stage right')
    expect(group.stations.slice(0, 3).map(({ where }) => where)).toEqual([
      'Upstage, third of 3 from stage right',
      'Downstage, first of 3 from stage right, 2.5 m up',
      'Mid-stage, second of 3 from stage right',
    ])
  })
})

describe('what is raised', () => {
  it('is one slot of one light a colour, and its three slots for white', () => {
    const all = sample([box(1), box(13)], [0, 1])
    for (const station of stations(all.groups)) {
      const { first } = station.slots
      expect(raisesOf(station)).toEqual(['red', 'green', 'blue', 'white'])
      expect(lit(all, raised(station, 'red'))).toEqual({ [first]: 255 })
      expect(lit(all, raised(station, 'green'))).toEqual({ [first + 1]: 255 })
      expect(lit(all, raised(station, 'blue'))).toEqual({ [first + 2]: 255 })
      expect(lit(all, raised(station, 'white'))).toEqual({ [first]: 255, [first + 1]: 255, [first + 2]: 255 })
    }
  })

  it('follows a swapped colour order to the slot that the colour has tonight', () => {
    const { rig, kit } = sampleRig([box(1)])
    kit.boxes.b0!.sockets.s2!.swap = 'grb'
    const station = groupsOf(rig, kit)[0]!.stations[1]!
    expect(slotText(station.slots, 'red')).toBe('5')
    expect(lit({ rig, kit, groups: [] }, raised(station, 'red'))).toEqual({ 5: 255 })
  })

  it('shows a white channel by itself, and all channels together after it', () => {
    const { rig, kit } = sampleRig([box(1, { sockets: [4, 4, 4] })])
    rig.builds.tube!.channels = channelsOf('rgb', 1, 8, { white: true })
    const station = groupsOf(rig, kit)[0]!.stations[1]!
    expect(raisesOf(station)).toEqual(['red', 'green', 'blue', 'white', 'all'])
    expect(lit({ rig, kit, groups: [] }, raised(station, 'white'))).toEqual({ 8: 255 })
    expect(Object.keys(lit({ rig, kit, groups: [] }, raised(station, 'all')))).toEqual(['5', '6', '7', '8'])
  })

  it('raises a light that has a dimmer alone', () => {
    const { rig, kit } = sampleRig([box(1, { sockets: [1, 1] })])
    rig.builds.tube!.channels = [{ does: 'intensity', bits: 8 }]
    const station = groupsOf(rig, kit)[0]!.stations[1]!
    expect(raisesOf(station)).toEqual(['all'])
    expect(lit({ rig, kit, groups: [] }, raised(station, 'all'))).toEqual({ 2: 255 })
  })

  it('says the slots of many cells short', () => {
    const { groups } = sample([], [], [{ universe: 1, address: 10, cells: 5 }])
    expect(slotText(stations(groups)[0]!.slots, 'green')).toBe('11, 14 and 3 more')
  })
})

it('passes by a fixture that is missing tonight, and says so', () => {
  const { rig, kit } = sample([box(1)], [0])
  kit.boxes.b0!.sockets.s2!.missing = true
  const [, second] = stations(groupsOf(rig, kit))
  expect(second).toMatchObject({ label: '2', fixture: null, name: 'Missing tonight' })
})

describe('the glow for plugging up', () => {
  it('raises every slot of every socket a little, empty ones too', () => {
    const all = sample([box(1, { filled: 2 }), box(13)], [0, 1])
    const slots = lit(all, glowOf(all.groups))
    expect(Object.keys(slots)).toHaveLength(24)
    expect(new Set(Object.values(slots))).toEqual(new Set([31]))
  })

  it('raises the coarse byte of 16-bit outputs', () => {
    const all = sample([box(1, { bits: 16, filled: 3 })], [0])
    const { slots } = glowOf(all.groups)
    expect(slots.map(({ address }) => address)).toEqual([19, 21, 23])
  })
})
