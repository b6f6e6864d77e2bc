// The player: what the engine plays frame by frame, with no thread and no socket.

import { songCourse } from '@glowchart/server/engine/course.ts'
import { createPlayer, type Piece, type Player } from '@glowchart/server/engine/player.ts'
import { compileLook } from '@glowchart/shared/render/compile.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { freeHouse } from '@glowchart/shared/render/live.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { describe, expect, it } from 'vitest'
import { gaussian, random } from '../support/random.ts'
import { BAR, livelyShow, pieceOf, playerOn, RATE } from './lively-player.ts'

/** Renders frames first…first + count − 1 and returns each one's bytes and position. */
function frames(player: Player, first: number, count: number): { bytes: string; position: number }[] {
  return Array.from({ length: count }, (_, i) => {
    player.render(first + i, ((first + i) * 1000) / RATE)
    return { bytes: Buffer.from(player.levels).toString('hex'), position: player.position }
  })
}

describe('a look between songs', () => {
  it('moves by itself on the internal clock, says that no song plays, and gives way to a song', () => {
    const { rig, show } = livelyShow()
    const light = show.songs.song!.sections.verse!.cues.first!.light
    const part = show.songs.song!.tracks[show.songs.song!.sections.verse!.cues.first!.track]!.part
    const looks = { talk: { name: 'Talk', parts: { [part]: light as never } } }
    const piece: Piece = {
      song: null,
      look: 'talk',
      revision: 2,
      compiled: compileLook(rig, { ...show, looks }, 'kit', 'talk'),
      plan: levelPlan(rig, show.kits.kit!),
    }
    const player = playerOn()
    player.press({ do: 'clock', source: 'midi' }, 0)
    player.take(piece, 10, 0, 3)
    const shown = frames(player, 10, 80)
    expect(new Set(shown.map(f => f.bytes)).size).toBeGreaterThan(10)
    // 120 BPM at 40 frames a second: 48 ticks a frame, from its first frame on.
    expect(shown.map(f => f.position)).toEqual(shown.map((_, i) => expect.closeTo(i * 48, 6)))
    expect(player.transport).toMatchObject({ song: null, look: 'talk', place: 3, playing: false })
    expect(player.press({ do: 'play' }, 90)?.code).toBe('engine.noSong')
    // An edit of it goes on where it is.
    player.take({ ...piece, revision: 3 }, 90)
    expect(frames(player, 90, 1)[0]!.position).toBeCloseTo(80 * 48, 6)
    player.press({ do: 'clock', source: 'internal' }, 91)
    player.take(pieceOf(livelyShow()), 91, 0, 4)
    expect(player.press({ do: 'play' }, 91)).toBeUndefined()
    expect(frames(player, 91, 41).at(-1)!.position).toBeCloseTo(40 * 48, 6)
    expect(player.transport).toMatchObject({ song: 'song', look: null, place: 4, playing: true })
  })
})

describe('a tempo that was set by hand', () => {
  it('stays with the song when it is called again, and is left with it', () => {
    const player = playerOn()
    player.press({ do: 'speed', factor: 1.25 }, 0)
    player.take(pieceOf(livelyShow()), 1, 0, 4)
    expect(player.transport.speed).toBe(1.25)
    player.take({ ...pieceOf(livelyShow()), song: 'another' }, 2, 0, 5)
    expect(player.transport.speed).toBe(1)
  })
})

describe('a repeat that is asked for once', () => {
  it('goes back once, says so, and then goes on by itself', () => {
    const player = playerOn()
    player.press({ do: 'loop', span: { from: 0, to: BAR, once: true } }, 0)
    player.press({ do: 'play' }, 0)
    // 80 frames a bar at 120 BPM.
    const shown = frames(player, 0, 3 * 80)
    expect(shown[79]!.position).toBeCloseTo(79 * 48, 6)
    expect(shown[81]!.position).toBeCloseTo(48, 6)
    expect(player.transport.repeated).toEqual({ from: 0, times: 1 })
    expect(player.transport.loop).toBeNull()
    expect(shown.at(-1)!.position).toBeGreaterThan(BAR)
  })
})

describe('the player on the internal clock', () => {
  it('plays frames that lie on multiples of the period from the song start, as the offline renderer has them', () => {
    const piece = pieceOf(livelyShow())
    const player = playerOn(piece)
    player.press({ do: 'play' }, 7)
    const positions = frames(player, 7, 200).map(frame => frame.position)
    expect(positions).toEqual(positions.map((_, n) => frameSpan(piece.compiled, n, RATE).from))
  })

  it('gives equal bytes for equal positions by play, by seek and by loop', () => {
    const straight = playerOn()
    straight.press({ do: 'play' }, 0)
    const byPosition = new Map(frames(straight, 0, 600).map(frame => [frame.position, frame.bytes]))

    const sought = playerOn()
    sought.press({ do: 'locate', at: 2 * BAR }, 3)
    sought.press({ do: 'play' }, 3)
    const after = frames(sought, 3, 100)
    expect(after[0]!.position).toBe(2 * BAR)
    for (const frame of after) expect(frame.bytes).toBe(byPosition.get(frame.position))

    const looped = playerOn()
    looped.press({ do: 'loop', span: { from: BAR, to: 2 * BAR } }, 0)
    looped.press({ do: 'play' }, 0)
    const rounds = frames(looped, 0, 500)
    expect(Math.max(...rounds.map(frame => frame.position))).toBeLessThan(2 * BAR)
    for (const frame of rounds) expect(frame.bytes).toBe(byPosition.get(frame.position))
  })

  it('holds the look when it stops, and goes on from the same place', () => {
    const player = playerOn()
    player.press({ do: 'play' }, 0)
    const playing = frames(player, 0, 50).at(-1)!
    player.press({ do: 'stop' }, 50)
    const held = frames(player, 50, 20)
    expect(new Set(held.map(frame => frame.position))).toEqual(new Set([playing.position]))
    expect(new Set(held.map(frame => frame.bytes)).size).toBe(1)
    player.press({ do: 'play' }, 70)
    expect(frames(player, 70, 1)[0]!.position).toBe(playing.position)
  })

  it('repeats a vamp until it is released, then leaves it at its end', () => {
    const show = livelyShow()
    show.show.songs.song!.sections.verse!.vamp = true
    const player = playerOn(pieceOf(show), 7 * BAR)
    player.press({ do: 'play' }, 0)
    // One bar at 120 BPM is 80 frames.
    const around = frames(player, 0, 100).map(frame => frame.position)
    expect(around[79]).toBeLessThan(8 * BAR)
    expect(around[80]).toBe(0)
    player.press({ do: 'locate', at: 7 * BAR }, 100)
    player.press({ do: 'release' }, 100)
    expect(frames(player, 100, 81).at(-1)!.position).toBe(8 * BAR)
  })

  it('stops dark at the end of the song, and plays again from the start', () => {
    const player = playerOn(undefined, 11 * BAR)
    player.press({ do: 'play' }, 0)
    const last = frames(player, 0, 90).at(-1)!
    expect(last.position).toBe(12 * BAR)
    expect(last.bytes).toMatch(/^0+$/)
    expect(player.transport.playing).toBe(false)
    player.press({ do: 'play' }, 90)
    expect(frames(player, 90, 1)[0]!.position).toBe(0)
  })

  it('goes on at the same place when the song is edited while it plays', () => {
    const show = livelyShow()
    const player = playerOn(pieceOf(show))
    player.press({ do: 'play' }, 0)
    const before = frames(player, 0, 100).at(-1)!.position
    const faster: { rig: typeof show.rig; show: Show } = structuredClone(show)
    faster.show.songs.song!.bpm = 150
    player.take(pieceOf(faster, 2), 100)
    const [first, second] = frames(player, 100, 2)
    // The frame after, by the old tempo: 48 ticks a frame at 120 BPM.
    expect(first!.position).toBeCloseTo(before + 48, 6)
    // 150 BPM at 40 frames a second: 60 ticks a frame.
    expect(second!.position - first!.position).toBeCloseTo(60, 6)
  })

  it('loses no frame to edits that leave the tempo alone', () => {
    const show = livelyShow()
    const straight = playerOn(pieceOf(show))
    const edited = playerOn(pieceOf(show))
    for (const player of [straight, edited]) player.press({ do: 'play' }, 0)
    const expected = frames(straight, 0, 120)
    const got = Array.from({ length: 120 }, (_, n) => {
      if (n % 7 === 0) edited.take(pieceOf(show, n + 2), n)
      return frames(edited, n, 1)[0]!
    })
    expect(got).toEqual(expected)
  })

  it('goes on exactly where another engine would have been', () => {
    const first = playerOn()
    first.press({ do: 'play' }, 0)
    frames(first, 0, 60)
    const { transport, live, follower, timecode } = first
    const state = structuredClone({ transport, live, follower, timecode })
    const expected = frames(first, 60, 40)
    const second = createPlayer(RATE)
    second.take(pieceOf(livelyShow()), 0)
    second.resume({
      ...state,
      house: freeHouse,
      origin: 0,
      rate: RATE,
      output: undefined as never,
      sequences: {},
    })
    expect(frames(second, 70, 30)).toEqual(expected.slice(10))
  })

  it('refuses what cannot be, with a code, and changes nothing', () => {
    const silent = createPlayer(RATE)
    expect(silent.press({ do: 'play' }, 0)?.code).toBe('engine.noSong')
    const player = playerOn()
    const before = player.transport
    expect(player.press({ do: 'locate', at: 13 * BAR }, 0)?.code).toBe('transport.place')
    expect(player.press({ do: 'loop', span: { from: BAR, to: BAR } }, 0)?.code).toBe('transport.place')
    expect(player.transport).toBe(before)
  })
})

describe('the player on MIDI clock', () => {
  const PULSE = 60_000 / 120 / 24

  /** Plays frames while a clock at 120 BPM runs from `start` ms; `bytes` come before its first pulse. */
  function follow(player: Player, bytes: number[], start: number, count: number) {
    for (const byte of bytes) player.midi(byte, start - 1)
    let pulse = 0
    return Array.from({ length: count }, (_, i) => {
      const due = start + (i * 1000) / RATE
      for (; start + pulse * PULSE <= due; pulse++) player.midi(0xf8, start + pulse * PULSE)
      player.render(Math.round((due * RATE) / 1000), due)
      return player.position
    })
  }

  it('starts with Start, follows the pulses, and holds with Stop', () => {
    const player = playerOn()
    player.press({ do: 'clock', source: 'midi' }, 0)
    expect(player.press({ do: 'play' }, 0)?.code).toBe('transport.follows')
    const positions = follow(player, [0xfa], 1000, 200)
    // 48 ticks a frame at 120 BPM and 40 frames a second.
    for (const [i, position] of positions.entries()) expect(Math.abs(position - i * 48)).toBeLessThan(2)
    expect(player.clockStatus(6000).lock).toBe('locked')
    player.midi(0xfc, 6000)
    player.render(240, 6001)
    const held = player.position
    player.render(241, 6500)
    expect(player.position).toBe(held)
    expect(player.transport.playing).toBe(false)
  })

  it('has every tick in one frame and no other, however the pulses tremble: no flash is lost or doubled', () => {
    const course = songCourse(RATE)
    course.take(pieceOf(livelyShow()), 0, 0)
    course.press({ do: 'clock', source: 'midi' }, 0)
    const next = random(7)
    course.midi(0xfa, 999)
    let pulse = 0
    let reached: number | null = null
    for (let frame = 40; frame < 600; frame++) {
      const due = (frame * 1000) / RATE
      for (; 1000 + pulse * PULSE <= due - 15; pulse++)
        course.midi(0xf8, 1000 + pulse * PULSE + gaussian(next))
      course.step(frame, due)
      if (reached !== null) expect(course.from, `${frame}`).toBe(reached)
      reached = course.moves ? course.to : null
    }
    expect(reached).toBeGreaterThan(6 * BAR)
  })

  it('goes to a song position', () => {
    const player = playerOn()
    player.press({ do: 'clock', source: 'midi' }, 0)
    // Song position 32 sixteenths: bar 3.
    const positions = follow(player, [0xf2, 32, 0, 0xfb], 1000, 40)
    expect(positions[0]).toBeCloseTo(2 * BAR, 0)
    expect(positions.at(-1)).toBeCloseTo(2 * BAR + 39 * 48, -1)
  })

  it('repeats a vamp while the clock goes on, and says so by the shift of written against played position', () => {
    const show = livelyShow()
    show.show.songs.song!.sections.verse!.vamp = true
    const player = playerOn(pieceOf(show))
    player.press({ do: 'clock', source: 'midi' }, 0)
    // Eight bars of 80 frames, then one more bar.
    const positions = follow(player, [0xfa], 1000, 9 * 80)
    expect(positions.at(-1)).toBeLessThan(BAR + 10)
    expect(player.transport.shift).toBeCloseTo(-8 * BAR, 6)
  })
})

describe('pulses without a place', () => {
  it('are told by a hand which section sounds, and go on from there under the same pulses', () => {
    const player = playerOn()
    player.press({ do: 'clock', source: 'midi' }, 0)
    const pulse = (n: number): number => 1000 + n * (60_000 / 120 / 24)
    let n = 0
    const until = (due: number): void => {
      for (; pulse(n) <= due; n++) player.midi(0xf8, pulse(n))
      player.render(Math.round((due * RATE) / 1000), due)
    }
    for (let due = 1000; due < 3000; due += 25) until(due)
    expect(player.clockStatus(3000)).toMatchObject({ estimated: true, lock: 'locked' })
    player.press({ do: 'locate', at: 8 * BAR }, 120)
    until(3000)
    expect(player.clockStatus(3000).estimated).toBe(false)
    expect(player.transport.playing).toBe(true)
    expect(Math.abs(player.position - 8 * BAR - 48)).toBeLessThan(3)
    // On past the end: the hand brings it back from there too.
    for (let due = 3025; due < 13_000; due += 25) until(due)
    expect(player.transport.playing).toBe(false)
    player.press({ do: 'locate', at: 4 * BAR }, 520)
    for (let due = 13_000; due < 14_000; due += 25) until(due)
    expect(player.transport.playing).toBe(true)
    expect(Math.abs(player.position - 4 * BAR - 40 * 48)).toBeLessThan(60)
  })
})

describe('nudges', () => {
  it('move what plays on our own clock by their time, never before its start, and are refused on others', () => {
    const player = playerOn()
    player.press({ do: 'play' }, 0)
    frames(player, 0, 41)
    player.press({ do: 'nudge', ms: 20 }, 41)
    // 1.92 ticks a ms at 120 BPM.
    expect(frames(player, 41, 1)[0]!.position).toBeCloseTo(41 * 48 + 38.4, 6)
    player.press({ do: 'nudge', ms: -20 }, 42)
    expect(frames(player, 42, 1)[0]!.position).toBeCloseTo(42 * 48, 6)
    for (let i = 0; i < 3; i++) player.press({ do: 'nudge', ms: -500 }, 43)
    expect(frames(player, 43, 1)[0]!.position).toBe(0)
    player.press({ do: 'clock', source: 'midi' }, 44)
    expect(player.press({ do: 'nudge', ms: 20 }, 44)?.code).toBe('transport.follows')
  })
})
