// The rules of the house input, by packets of the standards and times of the test: priority, loss, sequence, release.

import { createDesk } from '@glowchart/server/house/desk.ts'
import { createHouse } from '@glowchart/server/house/house.ts'
import { decodeArtDmx } from '@glowchart/server/output/artnet.ts'
import { decodeE131 } from '@glowchart/server/output/e131.ts'
import type { House } from '@glowchart/shared/render/live.ts'
import type { HouseInput } from '@glowchart/shared/show/house-input.ts'
import { describe, expect, it } from 'vitest'
import { artDmxOctets, type E131Fields, e131 } from './packets.ts'

const OWN = Uint8Array.from({ length: 16 }, () => 0xee)
const sacnInput: HouseInput = { from: { protocol: 'sacn', universe: 7, port: 5568 }, blackout: 1, master: 2 }
const artnetInput: HouseInput = { from: { protocol: 'artnet', portAddress: 291 }, blackout: 1, master: 2 }

function deskFor(input: HouseInput = sacnInput) {
  const changes: House[] = []
  const desk = createDesk(OWN, house => changes.push(house))
  desk.expect(input)
  return {
    desk,
    changes,
    sacn: (now: number, fields: E131Fields) => desk.hearSacn(decodeE131(e131(fields))!, '10.0.0.9', now),
    artnet: (now: number, from: string, slots: number[], sequence = 0, physical = 0) =>
      desk.hearArtnet(decodeArtDmx(artDmxOctets(291, slots, sequence, physical))!, from, now),
  }
}

const DARK = 200
const FULL = 255

describe('the slots', () => {
  it('are dark from 128 on, and the master is a share of 255', () => {
    const { desk, sacn } = deskFor()
    expect(desk.house).toEqual({ blackout: false, grand: 1 })
    for (const [sequence, blackout, master, house] of [
      [1, 127, 255, { blackout: false, grand: 1 }],
      [2, 128, 255, { blackout: true, grand: 1 }],
      [3, 0, 51, { blackout: false, grand: 0.2 }],
      [4, 255, 0, { blackout: true, grand: 0 }],
    ] as const) {
      sacn(sequence, { sequence, slots: [blackout, master] })
      expect(desk.house).toEqual(house)
    }
  })

  it('that were not agreed on hold nothing', () => {
    const { desk, sacn } = deskFor({ from: sacnInput.from, blackout: 3 })
    sacn(1, { slots: [255, 0, 0] })
    expect(desk.house).toEqual({ blackout: false, grand: 1 })
  })

  it('change what is held only when they change, however often they come', () => {
    const { changes, sacn } = deskFor()
    for (let n = 0; n < 50; n++) sacn(n * 25, { sequence: n, slots: [0, 100] })
    expect(changes.length).toBe(1)
  })
})

it('does not take the show’s own Art-Net for the house’s, where it comes back to a laptop that sends to itself', () => {
  const house = createHouse({
    ...{ cid: OWN, changed() {}, clock: () => 1, artnetFault: () => '' },
    sends: () => [
      {
        universe: 1,
        to: { protocol: 'artnet', host: '127.0.0.1', port: 6454, portAddress: 291, mode: 'every' },
      },
    ],
  })
  house.listen(artnetInput)
  const light = decodeArtDmx(artDmxOctets(291, [DARK, FULL]))!
  house.artDmx(light, '127.0.0.1')
  expect(house.status()).toMatchObject({ state: 'waiting', blackout: false })
  house.artDmx(light, '10.0.0.9')
  expect(house.status()).toMatchObject({ state: 'heard', blackout: true })
  house.close()
})

describe('sACN (ANSI E1.31-2018)', () => {
  it('listens to the highest priority outright, and falls back when that one is gone (6.2.3, 6.7.1)', () => {
    const { desk, sacn } = deskFor()
    sacn(0, { cid: 1, name: 'Low', priority: 100, slots: [0, FULL] })
    sacn(10, { cid: 2, name: 'High', priority: 150, slots: [DARK, FULL] })
    expect(desk.house.blackout).toBe(true)
    expect(desk.status().says).toContain('High is listened to; left out on sACN universe 7: 1 more')
    for (let n = 1; n <= 5; n++) sacn(n * 500, { cid: 1, name: 'Low', sequence: n, slots: [0, FULL] })
    expect(desk.house.blackout).toBe(true)
    // High was heard last at 10 ms: 2.5 s later it is gone (Appendix A).
    desk.look(2510)
    expect(desk.status().source).toBe('High')
    desk.look(2511)
    expect(desk.status()).toMatchObject({ state: 'heard', source: 'Low', blackout: false, says: '' })
  })

  it('of equals keeps to the one heard first', () => {
    const { desk, sacn } = deskFor()
    sacn(0, { cid: 1, name: 'First', slots: [0, 100] })
    sacn(1, { cid: 2, name: 'Second', slots: [DARK, 0] })
    sacn(2, { cid: 1, name: 'First', sequence: 1, slots: [0, 100] })
    expect(desk.status()).toMatchObject({ source: 'First', blackout: false })
  })

  it('holds the last state when the source is lost, says so, and takes it back when it returns', () => {
    const { desk, sacn } = deskFor()
    sacn(0, { slots: [DARK, 100] })
    desk.look(2500)
    expect(desk.status().state).toBe('heard')
    desk.look(2501)
    expect(desk.status()).toMatchObject({ state: 'lost', source: 'Deck', blackout: true })
    expect(desk.status().says).toBe('Deck is no longer heard on sACN universe 7; its blackout is held.')
    sacn(9000, { sequence: 0, slots: [0, FULL] })
    expect(desk.status()).toMatchObject({ state: 'heard', blackout: false, says: '' })
  })

  it('ends a stream by Stream_Terminated without a look at its levels (6.2.6)', () => {
    const { desk, sacn } = deskFor()
    sacn(0, { slots: [0, 128] })
    for (const n of [1, 2, 3]) sacn(n, { sequence: n, options: 0x40, slots: [DARK, 0] })
    expect(desk.house).toEqual({ blackout: false, grand: 128 / 255 })
    expect(desk.status().says).toBe(
      'Deck has ended its stream on sACN universe 7; its master is held at 50 %.',
    )
  })

  it('passes over preview data, other start codes, other universes and what we send ourselves', () => {
    const { desk, sacn } = deskFor()
    sacn(0, { options: 0x80, slots: [DARK] })
    sacn(1, { startCode: 0xdd, slots: [DARK] })
    sacn(2, { universe: 8, slots: [DARK] })
    sacn(3, { cid: 0xee, slots: [DARK] })
    expect(desk.status()).toMatchObject({ state: 'waiting', blackout: false })
    expect(desk.status().says).toBe('Nothing is heard from the house on sACN universe 7 yet.')
  })

  it('drops what is out of sequence: −20 < difference ≤ 0 (6.7.2)', () => {
    const { desk, sacn } = deskFor()
    sacn(0, { sequence: 10, slots: [0] })
    for (const old of [10, 9, 247]) {
      sacn(1, { sequence: old, slots: [DARK] })
      expect(desk.house.blackout).toBe(false)
    }
    // 246 is 20 back: the sender has begun anew.
    sacn(2, { sequence: 246, slots: [DARK] })
    expect(desk.house.blackout).toBe(true)
  })
})

describe('Art-Net 4', () => {
  it('keeps to the first source, says that there is another, and takes that one after 10 s of silence', () => {
    const { desk, artnet } = deskFor(artnetInput)
    artnet(0, '10.0.0.1', [0, 200])
    artnet(10, '10.0.0.2', [DARK, 0])
    artnet(20, '10.0.0.1', [DARK, 0], 0, 1)
    expect(desk.status()).toMatchObject({ source: '10.0.0.1', blackout: false })
    expect(desk.status().says).toBe('10.0.0.1 is listened to; left out on Art-Net 1:2:3: 2 more.')
    artnet(9000, '10.0.0.2', [DARK, 0])
    desk.look(10_000)
    expect(desk.house.blackout).toBe(false)
    desk.look(10_001)
    expect(desk.status()).toMatchObject({ source: '10.0.0.2', blackout: true })
  })

  it('drops older sequence numbers, but takes 0, which says that there are none', () => {
    const { desk, artnet } = deskFor(artnetInput)
    artnet(0, '10.0.0.1', [0], 200)
    artnet(1, '10.0.0.1', [DARK], 199)
    expect(desk.house.blackout).toBe(false)
    artnet(2, '10.0.0.1', [DARK], 0)
    expect(desk.house.blackout).toBe(true)
  })
})

describe('a desk that is lost', () => {
  it('is released by hand, and by nothing else; one that is heard is not', () => {
    const { desk, changes, sacn } = deskFor()
    expect(desk.release()?.code).toBe('house.off')
    sacn(0, { slots: [DARK, 0] })
    expect(desk.release()?.code).toBe('house.holds')
    expect(desk.house.blackout).toBe(true)
    for (const now of [3000, 60_000, 3_600_000]) desk.look(now)
    expect(desk.house.blackout).toBe(true)
    expect(desk.release()).toBeUndefined()
    expect(changes.at(-1)).toEqual({ blackout: false, grand: 1 })
    expect(desk.status().state).toBe('waiting')
  })

  it('holds on through a new engine', () => {
    const { desk } = deskFor()
    desk.inherit({ blackout: true, grand: 0.5 })
    expect(desk.status()).toMatchObject({ state: 'lost', blackout: true, grand: 0.5 })
    expect(desk.status().says).toBe('The house is no longer heard on sACN universe 7; its blackout is held.')
  })

  it('holds nothing any more once the house input is off', () => {
    const { desk, sacn } = deskFor()
    sacn(0, { slots: [DARK, 0] })
    desk.expect(undefined)
    expect(desk.status()).toEqual({ state: 'off', source: '', blackout: false, grand: 1, says: '' })
    desk.inherit({ blackout: true, grand: 0 })
    expect(desk.house.blackout).toBe(false)
  })
})
