// A set on one timeline, and songs by number: timed bytes go in as they would from ports, the engine's own player plays.

import { clockInlet } from '@glowchart/server/engine/clock-inlet.ts'
import { createConductor } from '@glowchart/server/engine/conductor.ts'
import type { LoopStatus } from '@glowchart/server/engine/loop-messages.ts'
import { createPedals } from '@glowchart/server/engine/pedals.ts'
import { createPlayer, type Piece } from '@glowchart/server/engine/player.ts'
import { timecodeOf } from '@glowchart/shared/clock/timecode.ts'
import type { Transport } from '@glowchart/shared/messages.ts'
import { compileLook, compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { stepAt, stepsOf } from '@glowchart/shared/set/steps.ts'
import { positionSpans, setTempo, timecodeStart } from '@glowchart/shared/set/timeline.ts'
import type { SetList, Show } from '@glowchart/shared/show/schema.ts'
import { bpmAt, secondsAt } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'
import { sampleShow } from '../advice/sampleShow.ts'

const RATE = 40
const BAR = 3840

/** Two songs of twelve bars, at 120 and at 90, with a look to talk under before the second. */
function setShow(
  entries: Partial<SetList['songs'][number]>[],
  more: Partial<SetList> = {},
): {
  rig: ReturnType<typeof sampleShow>['rig']
  show: Show
} {
  const { rig, show } = sampleShow()
  show.songs.slow = { ...structuredClone(show.songs.song!), title: 'Slow', bpm: 90 }
  show.songOrder = ['song', 'slow']
  show.looks.talk = { name: 'Talk', parts: {} }
  const songs: SetList['songs'] = [
    { song: 'song', ...entries[0] },
    { song: 'slow', before: 'talk', ...entries[1] },
  ]
  show.setLists = { tonight: { name: 'Tonight', songs, ...more } }
  show.tonightList = 'tonight'
  return { rig, show }
}

/** The engine without its threads: what the ports hear chooses pieces and moves the player, in the engine's order. */
function stage({ rig, show }: ReturnType<typeof setShow>, source: 'midi' | 'mtc') {
  const player = createPlayer(RATE)
  let place: number | null = null
  let frame = 0
  const chosen: string[] = []
  const take = (one: { song: string } | { look: string }, at: number): void => {
    const isSong = 'song' in one
    const compiled = isSong
      ? compileSong(rig, show, 'kit', one.song)
      : compileLook(rig, show, 'kit', one.look)
    const startsAt = isSong
      ? timecodeStart(show, stepAt(stepsOf(show), { song: one.song, look: null, place }))
      : null
    const piece: Piece = {
      song: null,
      ...one,
      ...(startsAt && { startsAt }),
      revision: 1,
      compiled,
      plan: levelPlan(rig, show.kits.kit!),
    }
    player.take(piece, frame, at, place)
  }
  const press = (choice: Transport): void => {
    if (choice.do !== 'song' && choice.do !== 'look') throw new Error(`not asked for: ${choice.do}`)
    place = choice.place ?? null
    chosen.push(choice.do === 'song' ? `${choice.song} ${choice.at}` : choice.look)
    take(
      choice.do === 'song' ? { song: choice.song } : { look: choice.look },
      choice.do === 'song' ? choice.at : 0,
    )
  }
  const situation = () => {
    const { transport, position, live } = player
    const { song, look, playing, loop, released, repeated } = transport
    const clock = player.clockStatus((frame * 1000) / RATE)
    return {
      song,
      look,
      playing,
      loop,
      released,
      repeated,
      place,
      position,
      live,
      clock,
    } as unknown as LoopStatus
  }
  const now = () => ({ show, situation: situation() })
  const conductor = createConductor({
    now,
    standing: () => ({ song: player.transport.song, look: player.transport.look, place }),
    choose: press,
    pass: (bytes, at) => {
      for (const byte of bytes) player.midi(byte, at)
    },
  })
  const pedals = createPedals({
    now,
    press,
    setLive: () => {},
    touched: () => {},
    sinceStart: conductor.sinceStart,
  })
  const inlet = clockInlet(conductor.hear)
  take({ song: 'song' }, 0)
  player.press({ do: 'clock', source }, 0)
  return {
    player,
    chosen,
    inlet,
    hear(at: number, bytes: number[], port = 'Desk') {
      pedals.hear({ port, at, bytes })
      inlet.hear({ port, at, bytes })
    },
    /** Renders the frames due until a time (ms). */
    until(ms: number) {
      for (; (frame * 1000) / RATE <= ms; frame++) player.render(frame, (frame * 1000) / RATE)
    },
  }
}

type Stage = ReturnType<typeof stage>

/** Pulses of a set whose sender plays each song at its own tempo, from a pulse on; `first` is due at `at`. */
function pulses(on: Stage, show: Show, from: number, count: number, at: number): number {
  const tempo = setTempo(show, positionSpans(show))
  const zero = secondsAt(tempo, ticks(from * 40))
  const due = (n: number): number => at + 1000 * (secondsAt(tempo, ticks(n * 40)) - zero)
  for (let n = from; n < from + count; n++) {
    on.until(due(n) - 0.001)
    on.hear(due(n), [0xf8])
  }
  return due(from + count)
}

describe('a whole set on MIDI clock', () => {
  // The first song from bar 1 to 12; the second from bar 17.
  const set = setShow([{ songPosition: 0 }, { songPosition: 256 }])
  const { show } = set

  it('plays the songs where the pulses are, the look between them, and each at its own tempo', () => {
    const on = stage(set, 'midi')
    on.hear(1000, [0xfa])
    // Twelve bars of 96 pulses.
    const end = pulses(on, show, 0, 12 * 96 + 4, 1001)
    on.until(end)
    // At its end it gives way to the look.
    expect(on.player.transport).toMatchObject({ song: null, look: 'talk', place: 1 })
    const between = pulses(on, show, 12 * 96 + 4, 4 * 96 - 4, end)
    on.until(between - 1)
    expect(on.player.transport.look).toBe('talk')
    const start = between
    const later = pulses(on, show, 16 * 96, 2 * 96, start)
    on.until(later)
    expect(on.player.transport).toMatchObject({ song: 'slow', look: null, place: 2, playing: true })
    expect(on.player.position).toBeGreaterThan(2 * BAR - 60)
    expect(on.player.position).toBeLessThan(2 * BAR + 60)
    expect(on.player.clockStatus(later).bpm).toBeCloseTo(90, 0)
    expect(bpmAt(setTempo(show, positionSpans(show)), ticks(16 * BAR))).toBe(90)
    expect(on.chosen).toEqual(['talk', 'slow 0'])
  })

  it('tells the tempo that is heard, whatever was tapped on our own clock before', () => {
    const on = stage(set, 'midi')
    on.player.press({ do: 'speed', factor: 1.25 }, 0)
    on.hear(1000, [0xfa])
    const due = (pulse: number) => 1001 + (pulse * 60_000) / (110 * 24)
    for (let n = 0; n < 16 * 24; n++) {
      on.until(due(n) - 0.001)
      on.hear(due(n), [0xf8])
    }
    const { bpm, speed } = on.player.tempo(due(16 * 24))
    expect(bpm).toBeCloseTo(110, 0)
    expect(speed).toBeCloseTo(110 / 120, 2)
  })

  it('goes into the second song by song position and Continue, as far as they say', () => {
    const on = stage(set, 'midi')
    // Song position 272: a bar into it.
    on.hear(1000, [0xf2, 0x10, 0x02])
    on.until(1100)
    expect(on.player.transport).toMatchObject({ song: 'slow', playing: false })
    expect(on.player.position).toBe(BAR)
    on.hear(1200, [0xfb])
    const end = pulses(on, show, 17 * 96, 96, 1201)
    on.until(end)
    expect(Math.abs(on.player.position - 2 * BAR)).toBeLessThan(60)
    expect(on.player.clockStatus(end)).toMatchObject({ estimated: false, lock: 'locked' })
    // Named again within the song while it runs, it waits for its Continue.
    on.hear(end, [0xf2, 0x00, 0x00])
    on.until(end + 20)
    expect(on.player.transport.song).toBe('slow')
    on.hear(end + 20, [0xfb])
    const first = pulses(on, show, 0, 48, end + 21)
    on.until(first)
    expect(on.player.transport.song).toBe('song')
    expect(Math.abs(on.player.position - BAR / 2)).toBeLessThan(60)
  })

  it('waits, though started, for a first song that comes later', () => {
    const late = setShow([{ songPosition: 32 }, {}])
    const on = stage(late, 'midi')
    on.hear(1000, [0xfa])
    const mid = pulses(on, late.show, 0, 2 * 96, 1001)
    on.until(mid - 1)
    expect(on.player.transport.playing).toBe(false)
    expect(on.player.position).toBe(0)
    const end = pulses(on, late.show, 2 * 96, 96, mid)
    on.until(end)
    expect(on.player.transport.playing).toBe(true)
    expect(Math.abs(on.player.position - BAR)).toBeLessThan(60)
    expect(on.player.clockStatus(end).estimated).toBe(false)
  })

  it('lets a hand choose otherwise until the clock comes to the next song', () => {
    const on = stage(set, 'midi')
    on.hear(1000, [0xfa])
    const mid = pulses(on, show, 0, 96, 1001)
    on.hear(mid, [0xc0, 5])
    expect(on.chosen).toEqual([])
    pulses(on, show, 96, 96, mid)
    expect(on.chosen).toEqual([])
  })
})

describe('a whole set on time code', () => {
  const set = setShow([{ timecode: '01:00:00:00' }, { timecode: '01:00:30:00' }])

  function tape(on: Stage, from: number, seconds: number, at: number): number {
    for (let q = 0; q < seconds * 100; q++) {
      const due = at + q * 10
      const quarter = Math.round(from * 100) + q
      const { hours, minutes, seconds: s, frames } = timecodeOf(Math.floor(quarter / 8) * 2, '25')
      const nibbles = [frames, frames >> 4, s, s >> 4, minutes, minutes >> 4, hours, (hours >> 4) | 2]
      on.until(due - 0.001)
      on.hear(due, [0xf1, ((quarter % 8) << 4) | (nibbles[quarter % 8]! & 15)])
    }
    return at + seconds * 1000
  }

  it('plays the first song where the time is, then the look, and the second from its start to the frame', () => {
    const on = stage(set, 'mtc')
    // The first song lasts 24 s.
    const mid = tape(on, 3600 + 20, 8, 1000)
    on.until(mid - 1)
    expect(on.player.transport.look).toBe('talk')
    const ready = tape(on, 3628, 1.5, mid)
    on.until(ready - 1)
    expect(on.player.transport).toMatchObject({ song: 'slow', playing: false })
    const end = tape(on, 3629.5, 4.5, ready)
    on.until(end - 1)
    // 90 BPM: 1440 ticks a second; the frame before 4 s.
    expect(on.player.position).toBeCloseTo(3.975 * 1440, -1)
    expect(on.player.transport).toMatchObject({ song: 'slow', place: 2, playing: true })
    expect(on.chosen).toEqual(['talk', 'slow 0'])
  })

  it('goes at once where a full frame says', () => {
    const on = stage(set, 'mtc')
    // 01:00:34:00 at 25 frames.
    on.hear(1000, [0xf0, 0x7f, 0x7f, 1, 1, 0x21, 0, 34, 0, 0xf7])
    on.until(1100)
    expect(on.player.transport.song).toBe('slow')
    expect(on.player.position).toBeCloseTo(4 * 1440, 6)
  })
})

describe('a song by its number', () => {
  const named = setShow([{}, {}], { byNumber: true })

  it.each([
    ['program change', [0xc3, 1]],
    ['song select', [0xf3, 1]],
  ])('is there before a Start of the same millisecond, by %s', (_, bytes) => {
    const on = stage(named, 'midi')
    on.hear(1000, [...bytes, 0xfa])
    for (let n = 0; n < 96; n++) on.hear(1000 + n * 27.7778, [0xf8])
    on.until(1000 + 95 * 27.7778)
    expect(on.player.transport).toMatchObject({ song: 'slow', place: 2, playing: true })
    expect(Math.abs(on.player.position - 95 * 40)).toBeLessThan(60)
  })

  it('is there from its start when it is named a moment after the Start', () => {
    const on = stage(named, 'midi')
    on.hear(1000, [0xfa, 0xf8])
    on.hear(1021, [0xf8])
    on.hear(1030, [0xc0, 1])
    for (let n = 2; n < 96; n++) on.hear(1000 + n * 27.7778, [0xf8])
    on.until(1000 + 95 * 27.7778)
    expect(on.player.transport.song).toBe('slow')
    expect(Math.abs(on.player.position - 95 * 40)).toBeLessThan(60)
  })

  it('is nothing where the list does not ask for it, or has no such number', () => {
    const off = stage(setShow([{}, {}]), 'midi')
    off.hear(1000, [0xc0, 1])
    const on = stage(named, 'midi')
    on.hear(1000, [0xc0, 7])
    expect([...off.chosen, ...on.chosen]).toEqual([])
  })
})

describe('several ports that speak', () => {
  it('are told apart: the first is kept, another is chosen by hand, or taken once the first is silent', () => {
    const on = stage(setShow([{}, {}]), 'midi')
    const beat = (port: string, from: number, count: number, gap: number): void => {
      for (let n = 0; n < count; n++) on.hear(from + n * gap, [0xf8], port)
    }
    on.hear(1000, [0xfa], 'Drums')
    for (let n = 0; n < 96; n++) {
      on.hear(1001 + n * 20.8333, [0xf8], 'Drums')
      on.hear(1003 + n * 20.8333, [0xf8], 'Keys')
    }
    on.until(3000)
    expect(on.player.clockStatus(3000).bpm).toBeCloseTo(120, 0)
    expect(on.inlet.status(3000)).toEqual({ from: 'Drums', speaking: ['Drums', 'Keys'] })
    on.inlet.choose('Keys')
    beat('Drums', 3001, 10, 20.8333)
    expect(on.inlet.status(3200)).toMatchObject({ from: 'Keys' })
    on.inlet.choose(null)
    beat('Keys', 9000, 3, 20)
    expect(on.inlet.status(9050)).toEqual({ from: 'Keys', speaking: ['Keys'] })
  })
})
