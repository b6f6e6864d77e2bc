// The player on MIDI time code: waits, plays, stands and goes where the sender's time is.

import type { Player } from '@glowchart/server/engine/player.ts'
import { timecodeOf } from '@glowchart/shared/clock/timecode.ts'
import { describe, expect, it } from 'vitest'
import { BAR, livelyShow, pieceOf, playerOn, RATE } from './lively-player.ts'

describe('the player on MIDI time code', () => {
  /** Renders frames 40 a second while a sender at 25 runs from timecode `from` (s); pieces come as it passes them. */
  function ride(player: Player, from: number, start: number, count: number) {
    const QUARTER = 10
    let sent = 0
    return Array.from({ length: count }, (_, i) => {
      const due = start + (i * 1000) / RATE
      for (; start + sent * QUARTER <= due; sent++) {
        const q = Math.round(from * 100) + sent
        for (const byte of quarterFrame(q)) player.midi(byte, start + sent * QUARTER)
      }
      player.render(Math.round((due * RATE) / 1000), due)
      return player.position
    })
  }

  function quarterFrame(q: number): number[] {
    const { hours, minutes, seconds, frames } = timecodeOf(Math.floor(q / 8) * 2, '25')
    const nibbles = [
      frames,
      frames >> 4,
      seconds,
      seconds >> 4,
      minutes,
      minutes >> 4,
      hours,
      (hours >> 4) | 2,
    ]
    return [0xf1, ((q % 8) << 4) | (nibbles[q % 8]! & 15)]
  }

  const tapeAt = { hours: 1, minutes: 0, seconds: 10, frames: 0 }

  function onTape(show = livelyShow()): Player {
    const player = playerOn({ ...pieceOf(show), startsAt: tapeAt })
    player.press({ do: 'clock', source: 'mtc' }, 0)
    return player
  }

  it('waits for the song to come, plays it where the time is, and says what the sender shows', () => {
    const player = onTape()
    expect(player.press({ do: 'play' }, 0)?.code).toBe('transport.follows')
    // A second before the song: 40 frames.
    const positions = ride(player, 3609, 10_000, 240)
    expect(positions.slice(0, 40)).toEqual(Array(40).fill(0))
    // 48 ticks a frame at 120 BPM; a frame of 25 ms lies on every fifth half of a quarter frame.
    for (const [i, at] of positions.entries())
      if (i >= 40) expect(Math.abs(at - (i - 40) * 48)).toBeLessThan(1)
    expect(player.clockStatus(15_975)).toMatchObject({ source: 'mtc', lock: 'locked', estimated: false })
    expect(player.clockStatus(15_975).timecode).toEqual({ label: '01:00:14:24', rate: '25' })
    // Nothing more comes: two seconds more, and it stands.
    for (let i = 240; i < 400; i++) player.render(400 + i, 10_000 + i * 25)
    expect(player.transport.playing).toBe(false)
    expect(player.position).toBeCloseTo((199.6 + 80) * 48, -2)
  })

  it('goes to a full frame and stands there, though the time was past the end', () => {
    const player = onTape()
    ride(player, 3640, 10_000, 40)
    expect(player.transport.playing).toBe(false)
    // 01:00:14:00 at 25, four seconds into the song.
    for (const byte of [0xf0, 0x7f, 0x7f, 1, 1, 0x21, 0, 14, 0, 0xf7]) player.midi(byte, 12_000)
    player.render(500, 12_500)
    expect(player.position).toBeCloseTo(4 * 1920, 6)
    expect(player.transport.playing).toBe(false)
    const on = ride(player, 3614, 13_000, 40)
    expect(on.at(-1)).toBeCloseTo(4 * 1920 + 39 * 48, 0)
  })

  it('repeats a vamp, takes a jump by hand, and is where the time says after a relocation', () => {
    const show = livelyShow()
    show.show.songs.song!.sections.verse!.vamp = true
    const player = onTape(show)
    // Eight bars are 16 s; one bar more.
    const positions = ride(player, 3610, 10_000, 9 * 80)
    expect(positions.at(-1)).toBeLessThan(BAR + 1)
    player.press({ do: 'locate', at: 4 * BAR }, 1200)
    expect(ride(player, 3628, 28_000, 20).at(-1)).toBeCloseTo(4 * BAR + 20 * 48, -2)
    for (const byte of [0xf0, 0x7f, 0x7f, 1, 1, 0x21, 0, 12, 0, 0xf7]) player.midi(byte, 29_000)
    expect(ride(player, 3612, 29_000, 10).at(-1)).toBeCloseTo(2 * 1920 + 9 * 48, 0)
  })

  it('starts a song that has no start on the time where it stands, when the time first runs', () => {
    const player = playerOn()
    player.press({ do: 'clock', source: 'mtc' }, 0)
    player.press({ do: 'locate', at: BAR }, 0)
    const positions = ride(player, 3700, 10_000, 80)
    // The first whole label comes 70 ms after its first piece.
    expect(positions[2]).toBe(BAR)
    expect(positions.at(-1)).toBeCloseTo(BAR + (79 - 3) * 48, -2)
  })
})
