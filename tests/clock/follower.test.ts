// What the follower does on each message: starts, stops, places, lost and doubled pulses; and what it never does.

import { execFile } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { follow, placed, repredicted } from '@glowchart/shared/clock/follower.ts'
import { type Follower, follower, type Prediction } from '@glowchart/shared/clock/follower-state.ts'
import type { MidiMessage } from '@glowchart/shared/clock/parser.ts'
import { type FollowedPosition, positionAt, unknownPosition } from '@glowchart/shared/clock/position.ts'
import { tempoMap } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'

const INTERVAL = 2500 / 120
const at120: Prediction = { tempo: tempoMap(120, []), shift: 0 }

/** A sender at 120 BPM with a follower on the cable. */
class Cable {
  state: Follower = follower(ticks(0))
  now = 1000
  prediction = at120
  send(type: 'start' | 'continue' | 'stop' | 'clock'): this {
    this.state = follow(this.state, this.prediction, { type, at: this.now })
    return this
  }
  place(sixteenths: number): this {
    this.state = follow(this.state, this.prediction, { type: 'songPosition', sixteenths, at: this.now })
    return this
  }
  wait(ms: number): this {
    this.now += ms
    return this
  }
  /** Pulses, the first at once; time then stands at the last of them. */
  pulses(count: number): this {
    for (let i = 0; i < count; i++) this.wait(i > 0 ? INTERVAL : 0).send('clock')
    return this
  }
  get position(): FollowedPosition {
    return positionAt(this.state, this.prediction, this.now, unknownPosition())
  }
}

describe('Start', () => {
  it('waits for its first pulse, which is position 0; pulse n is at 40n ticks, and between pulses the song goes on', () => {
    const cable = new Cable().send('start').wait(300)
    expect(cable.position).toMatchObject({ ticks: 0, running: false, lock: 'waiting' })
    cable.pulses(1)
    expect(cable.position).toMatchObject({ ticks: 0, running: true, estimated: false, lock: 'locking' })
    cable.wait(INTERVAL).pulses(96)
    expect(cable.position.ticks).toBeCloseTo(96 * 40, 6)
    expect(cable.position).toMatchObject({ lock: 'locked', running: true })
    expect(cable.position.bpm).toBeCloseTo(120, 6)
    cable.wait(INTERVAL / 2)
    expect(cable.position.ticks).toBeCloseTo(96.5 * 40, 6)
  })

  it('twice within 100 ms is one song start, and the last is the origin', () => {
    const cable = new Cable().send('start').pulses(3).wait(40).send('start')
    expect(cable.position.ticks).toBe(0)
    cable.wait(10).pulses(49)
    expect(cable.position.ticks).toBeCloseTo(48 * 40, 6)
    expect(cable.state.starts).toBe(1)
  })

  it('after more than 100 ms is another song start', () => {
    const cable = new Cable().send('start').pulses(24).wait(101).send('start').pulses(24)
    expect(cable.state.starts).toBe(2)
    expect(cable.position.ticks).toBeCloseTo(23 * 40, 6)
  })

  it('keeps the tempo that the pulses before it told', () => {
    const slow: Prediction = { tempo: tempoMap(100, []), shift: 0 }
    const cable = new Cable().send('stop')
    cable.prediction = slow
    cable.pulses(48).wait(INTERVAL).send('start').pulses(1)
    expect(cable.position.bpm).toBeCloseTo(120, 1)
    expect(cable.wait(INTERVAL * 0.99).position.ticks).toBeCloseTo(39.6, 1)
  })
})

describe('Stop, Continue and Song Position', () => {
  it('hold at Stop whatever pulses follow, and go on at the next pulse after Continue', () => {
    const cable = new Cable()
      .send('start')
      .pulses(49)
      .wait(INTERVAL / 2)
      .send('stop')
    const held = cable.position.ticks
    expect(held).toBeCloseTo(48.5 * 40, 6)
    cable
      .wait(INTERVAL / 2)
      .pulses(24)
      .wait(500)
    expect(cable.position).toMatchObject({ ticks: held, running: false, lock: 'stopped' })
    cable.send('continue').wait(5)
    expect(cable.position.ticks).toBe(held)
    cable.pulses(1)
    expect(cable.position.running).toBe(true)
    expect(cable.position.ticks).toBeCloseTo(49 * 40, 6)
    expect(cable.wait(INTERVAL).pulses(24).position.ticks).toBeCloseTo(73 * 40, 6)
  })

  it('set the place of the next Continue, in sixteenths', () => {
    const cable = new Cable().send('start').pulses(30).send('stop').wait(20).place(256)
    expect(cable.position.ticks).toBe(256 * 240)
    cable.send('continue').wait(250).pulses(7)
    expect(cable.position.ticks).toBeCloseTo(256 * 240 + 6 * 40, 6)
    expect(cable.state.starts).toBe(1)
  })

  it('follow the new beat of a sender that begins its clock anew at Continue, within a few pulses', () => {
    for (const late of [1, 2, 4, 8]) {
      const cable = new Cable().send('start').pulses(49).wait(INTERVAL).send('stop').place(0)
      cable.pulses(24).wait(late).send('continue').wait(INTERVAL).pulses(1)
      expect(cable.position.ticks).toBeCloseTo(0, 9)
      cable.wait(INTERVAL).pulses(12)
      expect(Math.abs(cable.position.ticks - 12 * 40)).toBeLessThan(1.5)
    }
  })

  it('move a running song only at the Continue', () => {
    const cable = new Cable().send('start').pulses(25).place(8)
    expect(cable.position.ticks).toBeCloseTo(24 * 40, 6)
    cable.wait(INTERVAL).pulses(1).wait(5).send('continue')
    expect(cable.position.ticks).toBe(8 * 240)
    expect(cable.wait(INTERVAL - 5).pulses(1).position.ticks).toBeCloseTo(8 * 240, 6)
  })

  it('back to a place earlier is the only way back, and is counted', () => {
    const cable = new Cable().send('start').pulses(97)
    const { relocations } = cable.state
    cable.send('stop').place(4).send('continue').pulses(1)
    expect(cable.position.ticks).toBe(4 * 240)
    expect(cable.state.relocations).toBe(relocations + 1)
  })
})

describe('pulses without a Start', () => {
  it('move the song on from where it stands, marked as estimated', () => {
    const cable = new Cable()
    expect(cable.position).toMatchObject({ lock: 'waiting', estimated: true, running: false })
    cable.state = placed(cable.state, at120, ticks(3840))
    cable.pulses(25)
    expect(cable.position).toMatchObject({ estimated: true, running: true })
    expect(cable.position.ticks).toBeCloseTo(3840 + 24 * 40, 6)
    expect(cable.send('start').pulses(1).position).toMatchObject({ estimated: false, ticks: 0 })
  })

  it('after a Song Position wait for its Continue', () => {
    const cable = new Cable().place(16).pulses(24)
    expect(cable.position).toMatchObject({ ticks: 16 * 240, running: false, estimated: false })
    expect(cable.send('continue').pulses(25).position.ticks).toBeCloseTo(16 * 240 + 24 * 40, 6)
  })
})

describe('lost and doubled pulses', () => {
  it('free-wheel at the last tempo, lost after 100 ms, locked again within a beat of their return', () => {
    const cable = new Cable().send('start').pulses(193)
    expect(cable.wait(95).position.lock).toBe('locked')
    expect(cable.wait(10).position.lock).toBe('lost')
    cable.wait(96 * INTERVAL - 105)
    expect(cable.position.ticks).toBeCloseTo((192 + 96) * 40, 3)
    expect(cable.pulses(1).position.lock).toBe('locking')
    cable.wait(INTERVAL).pulses(23)
    expect(cable.position.lock).toBe('locked')
    expect(cable.position.ticks).toBeCloseTo((192 + 96 + 23) * 40, 3)
  })

  it('of which one is lost cost no tick, and neither do doubles 2 ms apart', () => {
    const cable = new Cable()
      .send('start')
      .pulses(97)
      .wait(2 * INTERVAL)
      .pulses(24)
    expect(cable.position.ticks).toBeCloseTo((96 + 2 + 23) * 40, 3)
    for (let i = 0; i < 24; i++)
      cable
        .wait(i === 0 ? INTERVAL : INTERVAL - 2)
        .send('clock')
        .wait(2)
        .send('clock')
    expect(cable.wait(INTERVAL - 2).position.ticks).toBeCloseTo((96 + 2 + 23 + 24 + 1) * 40, 3)
  })

  it('held up by a busy machine and then let go at once are all counted', () => {
    const cable = new Cable()
      .send('start')
      .pulses(97)
      .wait(4 * INTERVAL + 1)
    for (let i = 0; i < 4; i++) cable.wait(0.01).send('clock')
    cable.wait(INTERVAL - 1.04).pulses(48)
    expect(cable.position.ticks).toBeCloseTo((96 + 4 + 48) * 40, 1)
  })
})

describe('under another prediction', () => {
  it('place and tempo stay when the song jumps back to where it is slower, and go on from there', () => {
    const tempo = tempoMap(120, [{ at: ticks(3840), bpm: 150 }])
    const cable = new Cable()
    cable.prediction = { tempo, shift: 0 }
    cable.send('start').pulses(97)
    for (let i = 0; i < 48; i++) cable.wait(2500 / 150).send('clock')
    cable.wait(10)
    const before = cable.position.ticks
    const jumped: Prediction = { tempo, shift: -5000 }
    cable.state = repredicted(cable.state, cable.prediction, jumped, cable.now)
    cable.prediction = jumped
    expect(cable.position.ticks).toBeCloseTo(before, 6)
    expect(cable.position.bpm).toBeCloseTo(120, 6)
    cable.wait((2500 / 150 - 10) * (150 / 120)).pulses(48)
    expect(cable.position.ticks).toBeCloseTo((96 + 48 + 48) * 40, 6)
  })

  it('the tempo of an idle clock stays when the song is changed', () => {
    const cable = new Cable().send('stop').pulses(48)
    const other: Prediction = { tempo: tempoMap(90, []), shift: 0 }
    cable.state = repredicted(cable.state, at120, other, cable.now)
    cable.prediction = other
    expect(cable.position.bpm).toBeCloseTo(120, 3)
  })
})

describe('whatever comes', () => {
  const message = fc.oneof(
    { weight: 30, arbitrary: fc.record({ type: fc.constant('clock' as const) }) },
    {
      weight: 1,
      arbitrary: fc.record({ type: fc.constantFrom('start' as const, 'continue' as const, 'stop' as const) }),
    },
    {
      weight: 1,
      arbitrary: fc.record({ type: fc.constant('songPosition' as const), sixteenths: fc.nat(16383) }),
    },
    {
      weight: 1,
      arbitrary: fc.record({ type: fc.constantFrom('reset' as const, 'activeSensing' as const) }),
    },
  )
  const wait = fc.oneof(
    { weight: 8, arbitrary: fc.double({ min: 15, max: 26, noNaN: true }) },
    { weight: 2, arbitrary: fc.double({ min: 0, max: 60, noNaN: true }) },
    { weight: 1, arbitrary: fc.double({ min: 0, max: 5000, noNaN: true }) },
  )
  const train = fc.array(fc.record({ message, wait }), { maxLength: 250 })
  const maps = fc.constantFrom(
    tempoMap(120, []),
    tempoMap(60, [
      { at: ticks(480), bpm: 180 },
      { at: ticks(2000), bpm: 70, glide: ticks(1000) },
    ]),
  )

  it('the position never goes back but by a relocation, and stays a number', () => {
    fc.assert(
      fc.property(train, maps, (messages, tempo) => {
        const prediction = { tempo, shift: 0 }
        const into = unknownPosition()
        let state = follower(ticks(0))
        let now = 0
        let last = 0
        for (const { message: what, wait: ms } of messages) {
          for (let part = 1; part <= 4; part++) {
            const place = positionAt(state, prediction, now + (ms * part) / 4, into).ticks
            expect(place).toBeGreaterThanOrEqual(last - 1e-6)
            last = place
          }
          now += ms
          const { relocations } = state
          state = follow(state, prediction, { ...what, at: now } as MidiMessage)
          const { ticks: place, bpm } = positionAt(state, prediction, now, into)
          expect(Number.isFinite(place) && Number.isFinite(bpm) && bpm > 0).toBe(true)
          if (state.relocations === relocations) expect(place).toBeGreaterThanOrEqual(last - 1e-6)
          last = place
        }
      }),
      { numRuns: 400 },
    )
  })

  it('the state is plain data: a copy goes on the same, the old one is not touched, and it does not grow', () => {
    fc.assert(
      fc.property(train, messages => {
        let state = follower(ticks(0))
        let now = 0
        for (const { message: what, wait: ms } of messages) {
          now += ms
          const heard = { ...what, at: now } as MidiMessage
          const copy = structuredClone(state)
          const next = follow(state, at120, heard)
          expect(JSON.parse(JSON.stringify(next))).toEqual(follow(copy, at120, heard))
          expect(state).toEqual(copy)
          expect(JSON.stringify(next).length).toBeLessThan(2000)
          state = next
        }
      }),
      { numRuns: 60 },
    )
  })

  it('times that fall or are no number do no harm', () => {
    const cable = new Cable().send('start').pulses(49)
    for (const at of [Number.NaN, Number.POSITIVE_INFINITY, -5]) {
      cable.state = follow(cable.state, at120, { type: 'clock', at })
    }
    expect(cable.wait(INTERVAL).pulses(24).position.ticks).toBeCloseTo(72 * 40, 0)
  })
})

it('reading the position makes no object: at most a number or two that the engine boxes', async () => {
  const script = fileURLToPath(new URL('../support/position-allocation.ts', import.meta.url))
  const flags = ['--import', 'tsx', '--expose-gc', '--max-semi-space-size=64']
  const { stdout } = await promisify(execFile)(process.execPath, [...flags, script])
  // The smallest object with its six fields would be 72 bytes, a boxed number is 16.
  expect(Number(stdout)).toBeLessThanOrEqual(32)
  expect(stdout.trim()).not.toBe('')
})
