// MIDI time code: labels and frame numbers, quarter frames and full frames, and the follower that runs along with them.

import { assembled, fullFrame, mtcAssembly } from '@glowchart/shared/clock/mtc-assembly.ts'
import {
  FREE_WHEEL_MS,
  followMtc,
  type MtcFollower,
  mtcFollower,
  mtcLock,
  mtcRuns,
  mtcSecondsAt,
} from '@glowchart/shared/clock/mtc-follower.ts'
import { midiParser, parseByte } from '@glowchart/shared/clock/parser.ts'
import {
  frameNumber,
  framesOfDay,
  framesPerSecond,
  isTimecode,
  type TimecodeRate,
  timecodeFrom,
  timecodeOf,
  timecodeRates,
  timecodeSeconds,
  timecodeText,
} from '@glowchart/shared/clock/timecode.ts'
import fc from 'fast-check'
import SmpteTimecode from 'smpte-timecode'
import { describe, expect, it } from 'vitest'
import { random } from '../support/random.ts'

const label = (text: string) => timecodeFrom(text)!

describe('labels of SMPTE time code', () => {
  it('leaves out the labels that drop frame leaves out', () => {
    // Worked out from the rule of SMPTE ST 12-1: :00 and :01 of each minute that ten does not divide.
    const vectors: [number, string][] = [
      [1799, '00:00:59:29'],
      [1800, '00:01:00:02'],
      [17_981, '00:09:59:29'],
      [17_982, '00:10:00:00'],
      [107_892, '01:00:00:00'],
    ]
    for (const [frame, text] of vectors) {
      expect(timecodeText(timecodeOf(frame, '29.97'))).toBe(text)
      expect(frameNumber(label(text), '29.97')).toBe(frame)
    }
    expect(framesOfDay('29.97')).toBe(2_589_408)
    // A day of labels is 86.4 ms short of a day (30000/1001 frames a second).
    expect(2_589_408 / framesPerSecond('29.97')).toBeCloseTo(86_399.9136, 4)
    expect(timecodeSeconds(label('01:00:00:00'), '29.97')).toBeCloseTo(3599.9964, 4)
  })

  it.each(timecodeRates)('goes there and back for every frame of a day at %s', rate => {
    let before = -1
    let wrong = 0
    for (let frame = 0; frame < framesOfDay(rate); frame++) {
      const code = timecodeOf(frame, rate)
      const order = ((code.hours * 60 + code.minutes) * 60 + code.seconds) * 30 + code.frames
      if (frameNumber(code, rate) !== frame || !isTimecode(code, rate) || order <= before) wrong++
      before = order
    }
    expect(wrong).toBe(0)
    expect(timecodeOf(framesOfDay(rate), rate)).toEqual(label('00:00:00:00'))
  })

  // The npm package smpte-timecode: another's reading of SMPTE ST 12-1, general-purpose.
  it.each(timecodeRates)('agrees with an independent package on labels, frames and real time at %s', rate => {
    const isDrop = rate === '29.97'
    const day = framesOfDay(rate)
    const minute = day / 1440
    const edges = Array.from(
      { length: 1440 * 9 },
      (_, i) => Math.round(Math.floor(i / 9) * minute) + (i % 9) - 4,
    )
    const spread = Array.from({ length: 3000 }, (_, i) => i * 863)
    const frames = [...edges, ...spread].filter(frame => frame >= 0 && frame < day)
    const wrong = frames.filter(frame => {
      const theirs = new SmpteTimecode(frame, Number(rate), isDrop)
      const text = theirs.toString().replace(';', ':')
      const then = theirs.toDate()
      const ms = ((then.getHours() * 60 + then.getMinutes()) * 60 + then.getSeconds()) * 1000
      const ours = timecodeSeconds(label(text), rate) * 1000
      return (
        timecodeText(timecodeOf(frame, rate)) !== text ||
        frameNumber(label(text), rate) !== new SmpteTimecode(text, Number(rate), isDrop).frameCount ||
        // Its dates are whole milliseconds.
        Math.abs(ms + then.getMilliseconds() - ours) > 1
      )
    })
    expect(frames.length).toBeGreaterThan(12_000)
    expect(wrong).toEqual([])
    if (isDrop) {
      // What has no label here has none there.
      for (const text of ['00:01:00:00', '13:59:00:01']) {
        expect(isTimecode(label(text), rate)).toBe(false)
        expect(() => new SmpteTimecode(text, 29.97, true)).toThrow('Invalid')
      }
    }
  })

  it('has a frame for whatever may be typed, and takes a dropped label for the one after it', () => {
    expect(frameNumber(label('00:01:00:00'), '29.97')).toBe(1800)
    expect(frameNumber(label('00:01:00;01'), '29.97')).toBe(1800)
    const part = (most: number) => fc.integer({ min: 0, max: most })
    fc.assert(
      fc.property(
        part(23),
        part(59),
        part(59),
        part(29),
        fc.constantFrom(...timecodeRates),
        (h, m, s, f, rate) => {
          const text = timecodeText({ hours: h, minutes: m, seconds: s, frames: f })
          const frame = frameNumber(label(text), rate)
          const back = timecodeOf(frame, rate)
          expect(frameNumber(back, rate)).toBe(frame % framesOfDay(rate))
          if (isTimecode(label(text), rate)) expect(timecodeText(back)).toBe(text)
        },
      ),
    )
    for (const text of ['24:00:00:00', '1:2:3:4', '00:60:00:00', '00:00:00:30', ''])
      expect(timecodeFrom(text)).toBeNull()
  })
})

/** Bytes of the eight pieces of a label's transmission. */
function piecesOf(frame: number, rate: TimecodeRate): number[] {
  const { hours, minutes, seconds, frames } = timecodeOf(frame, rate)
  const rr = timecodeRates.indexOf(rate) << 1
  return [
    frames & 15,
    frames >> 4,
    seconds & 15,
    seconds >> 4,
    minutes & 15,
    minutes >> 4,
    hours & 15,
    (hours >> 4) | rr,
  ].map((nibble, piece) => (piece << 4) | nibble)
}

describe('quarter frames and full frames', () => {
  const WORKED = [0x04, 0x11, 0x23, 0x32, 0x4e, 0x51, 0x61, 0x76]

  it('makes 01:30:35:20 at 30 of its eight pieces, and of its full frame', () => {
    // The full frame is the example of the MIDI time code specification (MMA RP-004/RP-008); the pieces hold the same time.
    let assembly = mtcAssembly
    const places = WORKED.map(data => {
      const step = assembled(assembly, data)
      assembly = step.assembly
      return step.place
    })
    const frame = ((60 + 30) * 60 + 35) * 30 + 20
    expect(places.slice(0, 7)).toEqual(Array(7).fill(null))
    // The eighth piece comes seven quarter frames after the frame it tells of.
    expect(places[7]).toEqual({ quarters: 4 * frame + 7, rate: '30' })
    expect(piecesOf(frame, '30')).toEqual(WORKED)
    let parser = midiParser
    const full = [0xf0, 0x7f, 0x7f, 0x01, 0x01, 0x61, 0x1e, 0x23, 0x14, 0xf7].flatMap(byte => {
      const heard = parseByte(parser, byte, 0)
      parser = heard.parser
      return heard.message ? [heard.message] : []
    })
    expect(full).toHaveLength(1)
    expect(full[0]!.type === 'sysEx' && fullFrame(full[0]!.bytes)).toEqual({
      quarters: 4 * frame,
      rate: '30',
    })
  })

  it('reads the same places backwards, and nothing of a label that a piece is missing from', () => {
    let assembly = mtcAssembly
    const places = WORKED.toReversed().map(data => {
      const step = assembled(assembly, data)
      assembly = step.assembly
      return step.place
    })
    expect(places.at(-1)!.quarters % 8).toBe((4 * (((60 + 30) * 60 + 35) * 30 + 20)) % 8)
    assembly = mtcAssembly
    for (const data of WORKED.toSpliced(3, 1)) {
      const step = assembled(assembly, data)
      assembly = step.assembly
      expect(step.place).toBeNull()
    }
  })

  it('passes over labels that there are not, and other messages', () => {
    expect(fullFrame([0x7f, 0x7f, 1, 1, 0x40, 1, 0, 0])).toBeNull()
    expect(fullFrame([0x7f, 0x7f, 1, 1, 0x1f, 0, 0, 0])).toBeNull()
    expect(fullFrame([0x7f, 0x7f, 6, 2])).toBeNull()
    expect(fullFrame([0x7e, 0x7f, 1, 1, 0, 0, 0, 0])).toBeNull()
  })
})

interface Ride {
  rate: TimecodeRate
  /** Frame of the first piece; even numbers, as a label takes two frames. */
  from: number
  at: number
  quarters: number
  speed?: number
  jitter?: () => number
  backwards?: boolean
}

/** Lets a sender run; gives each state with its time. Piece n of a label is sent n quarter frames after its frame. */
function ride(state: MtcFollower, { rate, from, at, quarters, speed = 1, jitter, backwards }: Ride) {
  const gap = 250 / framesPerSecond(rate) / speed
  const steps: { at: number; true: number; state: MtcFollower }[] = []
  let now = state
  let last = 0
  for (let i = 0; i < quarters; i++) {
    const q = 4 * from + (backwards ? -i : i)
    const data = piecesOf(Math.floor(q / 8) * 2, rate)[((q % 8) + 8) % 8]!
    const sent = at + i * gap
    last = Math.max(last, sent + (jitter?.() ?? 0))
    now = followMtc(now, { type: 'quarterFrame', data, at: last })
    steps.push({ at: sent, true: q / 4 / framesPerSecond(rate), state: now })
  }
  return { state: now, steps, end: at + quarters * gap }
}

const spread = (seed: number, ms: number): (() => number) => {
  const next = random(seed)
  return () => 2 * ms * next()
}

describe('the follower of time code', () => {
  it.each(timecodeRates)('is at the right time from the first whole label on, at %s', rate => {
    const { steps } = ride(mtcFollower, { rate, from: 107_880, at: 1000, quarters: 400 })
    expect(steps[6]!.state.mode).toBe('unknown')
    // Two frames after the label began, less the quarter that its first piece took.
    for (const { at, true: place, state } of steps.slice(7)) {
      expect(Math.abs(mtcSecondsAt(state, at) - place)).toBeLessThan(1e-6)
    }
    expect(mtcLock(steps.at(-1)!.state, steps.at(-1)!.at)).toBe('locked')
  })

  it.each([1, 5])('keeps to a fifth of a jitter of ±%i ms or 1 ms, and never goes back', ms => {
    const { steps } = ride(mtcFollower, {
      rate: '25',
      from: 90_000,
      at: 0,
      quarters: 3000,
      jitter: spread(7, ms),
    })
    let before = -1
    let square = 0
    for (const { at, true: place, state } of steps.slice(7)) {
      // Jitter delays by 0 to 2 × ms, so by ms in the mean.
      const now = mtcSecondsAt(state, at + 2 * ms)
      expect(now).toBeGreaterThanOrEqual(before)
      before = now
      if (at > 10_000) square += (1000 * (now - place) - ms) ** 2
    }
    const rms = Math.sqrt(square / steps.filter(s => s.at > 10_000).length)
    expect(rms).toBeLessThan(Math.max(1, ms / 5))
    expect(steps.at(-1)!.state.relocations).toBe(1)
  })

  it('follows another speed', () => {
    const { steps } = ride(mtcFollower, { rate: '30', from: 1800, at: 0, quarters: 1200, speed: 1.04 })
    const { at, true: place, state } = steps.at(-1)!
    expect(Math.abs(mtcSecondsAt(state, at) - place)).toBeLessThan(0.002)
  })

  it('counts on over a lost piece and a double', () => {
    const first = ride(mtcFollower, { rate: '25', from: 2000, at: 0, quarters: 100 })
    // Piece 100 is lost, 101 comes twice.
    const q = 4 * 2000 + 101
    const data = piecesOf(Math.floor(q / 8) * 2, '25')[q % 8]!
    let { state } = first
    for (let i = 0; i < 2; i++) state = followMtc(state, { type: 'quarterFrame', data, at: 1010 + i })
    const then = ride(state, { rate: '25', from: 2000 + 102 / 4, at: 1020, quarters: 50 })
    for (const { at, true: place, state } of then.steps)
      expect(Math.abs(mtcSecondsAt(state, at) - place)).toBeLessThan(0.001)
    expect(then.state.relocations).toBe(1)
  })

  it('goes on by itself for two seconds when the pieces cease, says that it is lost, and then stands', () => {
    const { state, end } = ride(mtcFollower, { rate: '25', from: 2000, at: 0, quarters: 400 })
    const last = end - 10
    expect(mtcLock(state, last + 150)).toBe('lost')
    expect(mtcSecondsAt(state, last + 1500)).toBeCloseTo(80 + (last + 1500) / 1000, 3)
    expect(mtcRuns(state, last + FREE_WHEEL_MS)).toBe(true)
    expect(mtcRuns(state, last + FREE_WHEEL_MS + 1)).toBe(false)
    expect(mtcLock(state, last + FREE_WHEEL_MS + 1)).toBe('stopped')
    expect(mtcSecondsAt(state, last + 60_000)).toBe(mtcSecondsAt(state, last + FREE_WHEEL_MS))
  })

  it('is slewed, not sent, to a sender that comes back a little off within that time', () => {
    const first = ride(mtcFollower, { rate: '25', from: 2000, at: 0, quarters: 400 })
    // A second later, and 100 ms behind where it would be: 2.5 frames.
    const from = 2000 + 100 + 25 - 3
    const back = ride(first.state, { rate: '25', from, at: first.end + 1000, quarters: 200 })
    let before = mtcSecondsAt(first.state, first.end)
    for (const { at, state } of back.steps) {
      const now = mtcSecondsAt(state, at)
      expect(now).toBeGreaterThanOrEqual(before)
      before = now
    }
    expect(back.state.relocations).toBe(1)
    const { at, true: place, state } = back.steps.at(-1)!
    expect(Math.abs(mtcSecondsAt(state, at) - place)).toBeLessThan(0.002)
  })

  it('goes elsewhere when two labels in a row say so, and at once by a full frame', () => {
    const first = ride(mtcFollower, { rate: '25', from: 2000, at: 0, quarters: 400 })
    const there = ride(first.state, { rate: '25', from: 9000, at: first.end, quarters: 32 })
    expect(there.state.relocations).toBe(2)
    expect(mtcSecondsAt(there.state, there.end)).toBeCloseTo(360 + 0.32, 2)
    const full = followMtc(there.state, {
      type: 'sysEx',
      bytes: [0x7f, 0x7f, 1, 1, 0x20, 0, 40, 0],
      at: there.end,
    })
    expect(full.relocations).toBe(3)
    expect(mtcRuns(full, there.end)).toBe(false)
    expect(mtcSecondsAt(full, there.end + 5000)).toBe(40)
    // From there it starts with the second piece, without waiting for the whole label.
    const again = ride(full, { rate: '25', from: 1000, at: there.end + 5000, quarters: 100 })
    expect(mtcRuns(again.steps[1]!.state, again.steps[1]!.at)).toBe(true)
    for (const { at, true: place, state } of again.steps.slice(1))
      expect(Math.abs(mtcSecondsAt(state, at) - place)).toBeLessThan(0.001)
  })

  it('stands at once by Stop, and soon when the cable is seen to be whole', () => {
    const { state, end } = ride(mtcFollower, { rate: '25', from: 2000, at: 0, quarters: 400 })
    expect(mtcRuns(followMtc(state, { type: 'stop', at: end }), end)).toBe(false)
    expect(mtcRuns(followMtc(state, { type: 'activeSensing', at: end + 100 }), end + 100)).toBe(true)
    expect(mtcRuns(followMtc(state, { type: 'activeSensing', at: end + 300 }), end + 300)).toBe(false)
  })

  it('stands while the time is wound back, goes along with it, and runs on from there', () => {
    const first = ride(mtcFollower, { rate: '25', from: 2000, at: 0, quarters: 400 })
    const back = ride(first.state, { rate: '25', from: 2100, at: first.end, quarters: 200, backwards: true })
    expect(mtcRuns(back.state, back.end)).toBe(false)
    expect(mtcSecondsAt(back.state, back.end)).toBeCloseTo((2100 - 48) / 25, 5)
    const on = ride(back.state, { rate: '25', from: 2050, at: back.end, quarters: 100 })
    const { at, true: place, state } = on.steps.at(-1)!
    expect(mtcSecondsAt(state, at)).toBeCloseTo(place, 5)
  })
})
