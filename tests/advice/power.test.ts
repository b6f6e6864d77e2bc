// Advice on power: what a socket's parts may carry, and what a song asks of a supply.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { adviseShow } from '@glowchart/shared/advice/advise.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { expect, it } from 'vitest'

const { rig, show } = demoBundle()
const withBox = (change: object): Rig => ({
  ...rig,
  boxes: { ...rig.boxes, left: { ...rig.boxes.left!, ...change } },
})
const power = (of: Rig) =>
  adviseShow(of, { ...show, songOrder: show.songOrder.slice(0, 1) }, 'full').filter(advice =>
    ['socketLoad', 'supplyLoad'].includes(advice.kind),
  )

it('says nothing on the demo, whose supplies and fuses hold', () => {
  expect(power(rig)).toEqual([])
})

it('stops on a song that asks more than the supply has, and names box and bar', () => {
  const [advice, ...others] = power(withBox({ supply: { ...rig.boxes.left!.supply, amps: 2 } }))
  expect(others).toEqual([])
  expect(advice).toMatchObject({ kind: 'supplyLoad', severity: 'stop', place: { boxes: ['left'] } })
  expect(advice!.says).toMatch(
    /^“Porchlight Arithmetic”, bar \d+: Box A gives [\d.]+ A\. Limit 80 % of 2 A\.$/,
  )
})

it('only warns above the share that is for long', () => {
  const peak = Number(
    /gives ([\d.]+) A/.exec(power(withBox({ supply: { ...rig.boxes.left!.supply, amps: 1 } }))[0]!.says)![1],
  )
  const [advice] = power(withBox({ supply: { ...rig.boxes.left!.supply, amps: peak * 1.1 } }))
  expect(advice).toMatchObject({ kind: 'supplyLoad', severity: 'heed' })
})

it('notes where an armed limit holds a box, and by how much', () => {
  const song = show.songOrder[0]!
  const kit = show.kits.full!
  const one = { ...show, songOrder: [song] }
  const boxes = { ...kit.boxes, left: { ...kit.boxes.left!, powerLimit: 2 } }
  const limited = (of: typeof show) =>
    adviseShow(rig, of, 'full').filter(advice => advice.kind === 'powerLimited')
  const [advice, ...others] = limited({ ...one, kits: { ...show.kits, full: { ...kit, boxes } } })
  expect(others).toEqual([])
  expect(advice!.says).toMatch(
    /^“Porchlight Arithmetic”, bar \d+: the power limit holds all lights of Box A to \d+ % of what is written, here the most\.$/,
  )
  expect(limited(one)).toEqual([])
})

it('names every part of a socket that is loaded too much, in one piece of advice with all remedies', () => {
  const sockets = rig.boxes.left!.sockets.map((socket, i) =>
    i === 0 ? { ...socket, fuse: 15, contactAmps: 2, cable: { ...socket.cable, conductors: 3 } } : socket,
  )
  const [advice, ...others] = power(withBox({ sockets }))
  expect(others).toEqual([])
  expect(advice!.says).toBe(
    'Box A, socket 1, Oh 1 full on: the common contact carries 3.36 A of 2 A, its cable has 3 conductors, too few for its colours and a common and the fuse of 15 A does not protect a conductor that may have 10 A.',
  )
  expect(advice!.remedy).toContain('Local electrical code comes first.')
})
