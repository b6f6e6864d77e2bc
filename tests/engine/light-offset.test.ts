// Light late or early against the clock: the same frames, so much later or earlier, on every clock.

import { createPlayer, type Piece, type Player } from '@glowchart/server/engine/player.ts'
import { timecodeOf } from '@glowchart/shared/clock/timecode.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { describe, expect, it } from 'vitest'
import { smallShow } from '../render/small-show.ts'

const RATE = 40
const BAR = 3840
const at = (frame: number): number => (frame * 1000) / RATE

/** A hit of 10 ms on the first beat, then a chase; at 120 BPM, in 4 bars. */
function pieceAt(lightOffset: number): Piece {
  const { rig, show } = smallShow({
    cues: {
      hit: { at: 0, length: 20 },
      c: { at: 480, length: 4 * BAR - 480, motion: { kind: 'chase', rate: { ticks: 1920 }, duty: 0.4 } },
    },
  })
  const kit = { ...show.kits.kit!, ...(lightOffset !== 0 && { venue: { lightOffset } }) }
  const there = { ...show, kits: { kit } }
  return {
    song: 'song',
    revision: 1,
    compiled: compileSong(rig, there, 'kit', 'song'),
    plan: levelPlan(rig, kit),
  }
}

function playerAt(lightOffset: number): Player {
  const player = createPlayer(RATE)
  player.take(pieceAt(lightOffset), 0, 0)
  return player
}

interface Shown {
  bytes: string
  position: number
}

function frames(
  player: Player,
  first: number,
  last: number,
  each: (frame: number) => void = () => {},
): Shown[] {
  return Array.from({ length: last - first }, (_, i) => {
    each(first + i)
    player.render(first + i, at(first + i))
    return { bytes: Buffer.from(player.levels).toString('hex'), position: player.position }
  })
}

/** Played on the own clock from a press at frame 4. */
function played(lightOffset: number, count = 120) {
  const player = playerAt(lightOffset)
  frames(player, 0, 4)
  player.press({ do: 'play' }, 4)
  return { player, shown: frames(player, 4, 4 + count) }
}

describe('on the own clock', () => {
  const plain = played(0).shown

  it('late light is the same frames, so many later; the clock itself starts at the press', () => {
    const { player, shown } = played(50)
    expect(shown.slice(2).map(one => one.bytes)).toEqual(plain.slice(0, -2).map(one => one.bytes))
    expect(shown[1]!.position).toBe(0)
    expect(player.transport.anchor.frame).toBe(4)
  })

  it('early light starts at once and passes nothing over; the clock starts after it', () => {
    const { player, shown } = played(-50)
    expect(shown.map(one => one.bytes)).toEqual(plain.map(one => one.bytes))
    expect(player.transport.anchor.frame).toBe(6)
  })

  it('stays on the song’s own grid of frames where the offset is no whole number of them', () => {
    const grid = new Set(plain.map(one => one.bytes))
    for (const offset of [30, -30, 7, 199]) {
      const { shown } = played(offset, 60)
      for (const one of shown.slice(8)) expect(grid).toContain(one.bytes)
    }
  })

  it('turns back at the end of a loop when the light is there', () => {
    const looped = (offset: number): number[] => {
      const player = playerAt(offset)
      player.press({ do: 'loop', span: { from: 0, to: BAR } }, 0)
      player.press({ do: 'play' }, 0)
      return frames(player, 0, 200).map(one => one.position)
    }
    expect(looped(100).slice(4)).toEqual(looped(0).slice(0, -4))
    expect(Math.max(...looped(100))).toBeLessThan(BAR)
  })

  it('goes on where it is when the offset is changed while a song plays', () => {
    const { player } = played(0, 40)
    player.take(pieceAt(100), 44)
    const [next] = frames(player, 44, 45)
    expect(next!.position).toBeCloseTo(((40 - 4) / RATE) * 1920, 6)
    expect(player.lightOffset).toBe(100)
  })
})

describe('on MIDI clock', () => {
  /** Start, then pulses at 120 BPM, each heard when it comes; what is played after that. */
  function followed(lightOffset: number, count: number): Shown[] {
    const player = playerAt(lightOffset)
    player.press({ do: 'clock', source: 'midi' }, 0)
    let pulse = 0
    const began = 102
    player.midi(0xfa, 100)
    return frames(player, 4, 4 + count, frame => {
      for (; began + (pulse * 2500) / 120 <= at(frame); pulse++)
        player.midi(0xf8, began + (pulse * 2500) / 120)
    })
  }

  it('shifts the light by the same time, and by nothing at the song’s start that would be lost', () => {
    const plain = followed(0, 120)
    const late = followed(100, 120)
    const early = followed(-100, 120)
    // 100 ms at 120 BPM are 192 ticks.
    for (const n of [60, 100]) {
      expect(late[n]!.position).toBeCloseTo(plain[n]!.position - 192, 3)
      expect(early[n]!.position).toBeCloseTo(plain[n]!.position + 192, 3)
    }
    for (const shown of [plain, late, early]) {
      expect(shown.every((one, n) => one.position >= (shown[n - 1]?.position ?? 0))).toBe(true)
    }
    // The hit of 10 ms at the song's start is in the first frame that moves.
    const lit = early.findIndex(one => one.position > 0)
    expect(early[lit]!.bytes).toContain('ffffff')
  })
})

describe('on MIDI time code', () => {
  /** Quarter frames at 25 frames a second, every 10 ms, from the label on at which the song lies. */
  function followed(lightOffset: number, count: number): number[] {
    const player = createPlayer(RATE)
    const startsAt = { hours: 1, minutes: 0, seconds: 0, frames: 0 }
    player.take({ ...pieceAt(lightOffset), startsAt }, 0, 0)
    player.press({ do: 'clock', source: 'mtc' }, 0)
    let sent = 0
    // The time passes the song's start at 1000 ms.
    return frames(player, 4, 4 + count, frame => {
      for (; sent * 10 <= at(frame); sent++) {
        const q = 3600 * 100 - 100 + sent
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
        for (const byte of [0xf1, ((q % 8) << 4) | (nibbles[q % 8]! & 15)]) player.midi(byte, sent * 10)
      }
    }).map(one => one.position)
  }

  it('shifts the light by the same time, and starts it so much later or earlier', () => {
    const plain = followed(0, 160)
    const late = followed(100, 160)
    const early = followed(-100, 160)
    for (const n of [100, 150]) {
      expect(late[n]!).toBeCloseTo(plain[n]! - 192, 0)
      expect(early[n]!).toBeCloseTo(plain[n]! + 192, 0)
    }
    const begins = (positions: number[]): number => positions.findIndex(one => one > 0)
    // Four frames; the start itself lies on the edge of one.
    expect(Math.abs(begins(late) - begins(plain) - 4)).toBeLessThanOrEqual(1)
    expect(Math.abs(begins(plain) - begins(early) - 4)).toBeLessThanOrEqual(1)
  })
})
