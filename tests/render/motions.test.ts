// The motions: the rules they share (position, order, time on any number of fixtures), and the strobe's whole frames.

import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { motionKinds } from '@glowchart/shared/light/schema.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bytesOf, framesOf, lightOf, redOf } from './rendering.ts'
import { compiledSmall, type ShowInput } from './small-show.ts'

const BAR = 3840

const moving = (motion: Record<string, unknown>, input: ShowInput = {}) =>
  compiledSmall({ cues: { c: { at: 0, length: 4 * BAR, motion } }, ...input })

/** Fixtures that are lit at a position. */
const litAt = (song: ReturnType<typeof compiledSmall>, at: number) =>
  Array.from(lightOf(song, at, at)).flatMap((v, i) => (i % 3 === 0 && v > 0.5 ? [i / 3] : []))

describe('every motion', () => {
  it.each(motionKinds)('%s has its page, its formula and its picture in docs', kind => {
    const docs = fileURLToPath(new URL('../../docs/', import.meta.url))
    const page = readFileSync(`${docs}motions.md`, 'utf8')
    expect(page).toContain(`motions/${kind}.png`)
    expect(existsSync(`${docs}motions/${kind}.png`)).toBe(true)
  })

  it.each(motionKinds)('%s keeps its floor, and differs between two positions or fixtures', kind => {
    const song = moving({ kind, rate: { ticks: 960 }, duty: 0.4, floor: 0.5 })
    const frames = framesOf(song, 40, 0, 80)
    for (const light of frames) for (const v of bytesOf(light)) expect(v).toBeGreaterThanOrEqual(47)
    const levels = new Set(frames.flatMap(bytesOf))
    if (kind === 'sustain') expect([...levels]).toEqual([255])
    else expect(levels.size).toBeGreaterThan(1)
  })

  it.each(motionKinds)('%s by Hz keeps to the clock where the tempo changes, by note to the beat', kind => {
    const tempo = [{ at: BAR, bpm: 90 }]
    // At 120 and then 90 BPM, 0.25 Hz is 2 bars in 4 s and then 1.5 bars.
    const hz = moving({ kind, rate: { hz: 0.5 }, seed: 3 }, { tempo, bpm: 120 })
    const beat = moving({ kind, rate: { ticks: BAR }, seed: 3 }, { bpm: 120 })
    const frames = (song: typeof hz) => framesOf(song, 40, 0, 160).map(bytesOf)
    expect(frames(hz)).toEqual(frames(beat))
  })

  it.each(motionKinds)('%s begins at its origin wherever the cue begins', kind => {
    const motion = { kind, rate: { ticks: 1000 }, seed: 9 }
    const whole = compiledSmall({ cues: { c: { at: 0, length: 4 * BAR, motion } } })
    const late = compiledSmall({ cues: { c: { at: 777, length: 4 * BAR - 777, origin: -777, motion } } })
    expect(framesOf(late, 40, 20, 100).map(bytesOf)).toEqual(framesOf(whole, 40, 20, 100).map(bytesOf))
  })

  it.each(motionKinds)('%s plays on one fixture, and on a part with none', kind => {
    expect(framesOf(moving({ kind }, { fixtures: 1 }), 10)).toHaveLength(80)
    expect(lightOf(moving({ kind }, { fixtures: 0 }), 0, 48)).toHaveLength(0)
  })
})

describe('a chase', () => {
  it('takes the same time on 8 fixtures as on 16', () => {
    const motion = { kind: 'chase', rate: { ticks: BAR }, duty: 0.2 }
    const eight = framesOf(moving(motion, { fixtures: 8 }), 40)
    const sixteen = framesOf(moving(motion, { fixtures: 16 }), 40)
    expect(redOf(eight, 0)).toEqual(redOf(sixteen, 0))
    expect(redOf(eight, 7)).toEqual(redOf(sixteen, 15))
  })

  it('lights eight fixtures one after the other with hard edges and a duty of an eighth', () => {
    const song = moving({ kind: 'chase', rate: { ticks: 8 * 480 }, duty: 1 / 8, shape: 0 }, { fixtures: 8 })
    for (let i = 0; i < 16; i++) {
      expect(litAt(song, i * 480)).toEqual([i % 8])
      expect(litAt(song, i * 480 + 479)).toEqual([i % 8])
    }
  })

  it('goes round a part that closes in a ring without a pause', () => {
    const motion = { kind: 'chase', rate: { ticks: 8 * 480 }, duty: 1 / 8, shape: 0 }
    const song = moving(motion, { fixtures: 8, cyclic: true })
    for (let i = 0; i < 16; i++) expect(litAt(song, i * 480)).toEqual([i % 8])
  })

  it('runs backward, outward and inward', () => {
    const motion = { kind: 'chase', rate: { ticks: 4000 }, duty: 0.25, shape: 0 }
    expect(litAt(moving({ ...motion, direction: 'backward' }, { fixtures: 5 }), 10)).toEqual([4])
    expect(litAt(moving({ ...motion, direction: 'outward' }, { fixtures: 5 }), 10)).toEqual([2])
    expect(litAt(moving({ ...motion, direction: 'inward' }, { fixtures: 5 }), 10)).toEqual([0, 4])
  })

  it('runs over single cells where it acts by cell', () => {
    const motion = { kind: 'chase', rate: { ticks: 4000 }, duty: 0.25, shape: 0, by: 'cell' }
    const song = moving(motion, { fixtures: 2, cells: 2 })
    expect(litAt(song, 10)).toEqual([0])
    expect(litAt(song, 1010)).toEqual([1])
    expect(litAt(song, 3010)).toEqual([3])
  })

  it('shows every pass in at least one frame, however near its cycle is to a frame', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 44 }),
        fc.integer({ min: 20, max: 400 }),
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        (fps, ticks, duty) => {
          const song = moving({ kind: 'chase', rate: { ticks }, duty, shape: 0 }, { fixtures: 3, bars: 1 })
          const perFrame = 1920 / fps / ticks
          fc.pre(perFrame < 1)
          const lit = redOf(framesOf(song, fps), 1)
          const longest = Math.ceil(1 / perFrame) + 1
          for (let i = 0; i + longest < lit.length - longest; i++) {
            expect(lit.slice(i, i + longest)).toContain(255)
          }
        },
      ),
    )
  })
})

describe('a pulse', () => {
  it('is at its height in the frame that its beat falls in, at any rate', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4, max: 44 }),
        fc.double({ min: 60, max: 200, noNaN: true }),
        (fps, bpm) => {
          const song = moving(
            { kind: 'pulse', rate: { ticks: 960 }, spread: 0, duty: 0.2, shape: 1 },
            { fixtures: 1, bpm },
          )
          const levels = redOf(framesOf(song, fps))
          for (let beat = 0; beat < 16; beat++) {
            const frame = Math.floor(((beat * 60) / bpm) * fps + 1e-6)
            expect(levels[frame]).toBe(255)
          }
        },
      ),
    )
  })

  it('shows its mean light while the clock stands still', () => {
    const song = moving({ kind: 'pulse', rate: { ticks: 960 }, duty: 0.3, shape: 0 }, { fixtures: 2 })
    for (const at of [0, 100, 700]) expect(lightOf(song, at, at)[0]).toBeCloseTo(0.3, 4)
    expect(lightOf(song, 0, 48, { ...freshLive(), hold: true })[0]).toBeCloseTo(0.3, 4)
  })
})

describe('a motion quicker than the frames', () => {
  it('shows its mean light', () => {
    for (const kind of ['chase', 'pulse', 'answer', 'cascade']) {
      const song = moving({ kind, rate: { ticks: 30 }, duty: 0.25, shape: 0 }, { fixtures: 4 })
      for (const v of lightOf(song, 960, 1008)) expect(v).toBeCloseTo(0.25, 2)
    }
  })
})

describe('an answer', () => {
  it.each(['forward', 'backward'])('goes round a ring %s, one light to a group', direction => {
    for (const count of [3, 4, 5, 6, 7, 9]) {
      const motion = {
        kind: 'answer',
        rate: { ticks: 960 },
        spread: count - 1,
        duty: 1 / count,
        shape: 0,
        direction,
      }
      const song = moving(motion, { fixtures: count, cyclic: true })
      const lit = Array.from({ length: count }, (_, i) => litAt(song, ((i + 0.5) * 960) / count))
      const way = direction === 'forward' ? 1 : count - 1
      expect(lit, `${count}`).toEqual(Array.from({ length: count }, (_, i) => [(i * way) % count]))
    }
  })
})

describe('a strobe', () => {
  /** Lengths of the runs of one value in between two others. */
  const runs = (levels: number[], value: number) => {
    const lengths: number[] = []
    let length = 0
    let whole = false
    levels.forEach((v, i) => {
      if (v === value) {
        if (length === 0) whole = i > 0
        length++
      } else {
        if (length > 0 && whole) lengths.push(length)
        length = 0
      }
    })
    return lengths
  }

  it('flashes equally long at any rate, tempo, frame rate and duty', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4, max: 44 }),
        fc.double({ min: 60, max: 220, noNaN: true }),
        fc.oneof(
          fc.constantFrom(960, 480, 320, 240, 120).map(ticks => ({ ticks })),
          fc.double({ min: 0.5, max: 22, noNaN: true }).map(hz => ({ hz })),
        ),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (fps, bpm, rate, duty) => {
          const seconds = 'hz' in rate ? 1 / rate.hz : (rate.ticks / 960) * (60 / bpm)
          const frames = seconds * fps
          fc.pre(frames >= 2 && Math.abs(((duty * frames) % 1) - 0.5) > 1e-4)
          const song = moving({ kind: 'strobe', rate, duty, spread: 0 }, { fixtures: 1, bpm })
          const levels = redOf(framesOf(song, fps))
          const expected = Math.min(
            Math.max(1, Math.round(duty * frames)),
            Math.max(1, Math.floor(frames + 1e-6) - 1),
          )
          expect(new Set([...runs(levels, 255), expected])).toEqual(new Set([expected]))
          expect(new Set(levels)).toEqual(new Set([0, 255]))
        },
      ),
    )
  })

  it('ends with its cue: no flash begins on the tick where the cue ends, wherever that falls in a frame', () => {
    const motion = { kind: 'strobe', rate: { ticks: 240 }, spread: 0 }
    for (const fps of [25, 30, 37, 40, 44]) {
      const song = compiledSmall({ bpm: 128, fixtures: 1, cues: { c: { at: 0, length: 960, motion } } })
      expect(runs(redOf(framesOf(song, fps, 0, fps)), 0).length, `${fps}`).toBe(3)
    }
  })

  it('is on and off in turn at 20 Hz and 40 frames a second', () => {
    const song = moving({ kind: 'strobe', rate: { hz: 20 }, spread: 0 }, { fixtures: 1 })
    expect(redOf(framesOf(song, 40, 0, 8))).toEqual([255, 0, 255, 0, 255, 0, 255, 0])
  })

  it('shows its mean light, not its mean level, when it is too quick, stopped, held or on a stopped clock', () => {
    const strobe = { kind: 'strobe', spread: 0, duty: 0.3 }
    const slow = moving({ ...strobe, rate: { hz: 4 } }, { fixtures: 1 })
    const mean = (light: Float32Array) => expect(light[0]).toBeCloseTo(0.3, 6)
    mean(lightOf(moving({ ...strobe, rate: { hz: 25 } }, { fixtures: 1 }), 0, 48))
    mean(lightOf(slow, 0, 48, { ...freshLive(), strobeStop: true }))
    mean(lightOf(slow, 0, 48, { ...freshLive(), hold: true }))
    mean(lightOf(slow, 500, 500))
  })

  it('runs along the part by its spread', () => {
    const song = moving(
      { kind: 'strobe', rate: { ticks: 1920 }, spread: 1, duty: 0.25 },
      { fixtures: 4, cyclic: true },
    )
    expect(litAt(moving({ kind: 'sustain' }, { fixtures: 4 }), 0)).toHaveLength(4)
    const lit = (at: number) => bytesOf(lightOf(song, at, at + 48)).filter((_, i) => i % 3 === 0)
    expect(lit(0)).toEqual([255, 0, 0, 0])
    expect(lit(480)).toEqual([0, 255, 0, 0])
    expect(lit(1440)).toEqual([0, 0, 0, 255])
  })
})
