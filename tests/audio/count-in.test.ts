// A song that is counted in: it stands, its look held, and moves on the frame that was promised.

import { createPlayer, type Player } from '@glowchart/server/engine/player.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { describe, expect, it } from 'vitest'
import { smallShow } from '../render/small-show.ts'

const RATE = 40
const BAR = 3840

function playerAt(at: number): Player {
  const { rig, show } = smallShow({
    fixtures: 4,
    cues: { run: { at: 0, length: 4 * BAR, motion: { kind: 'chase', rate: { ticks: 960 } } } },
  })
  const compiled = compileSong(rig, show, 'kit', 'song')
  const player = createPlayer(RATE)
  player.take({ song: 'song', revision: 1, compiled, plan: levelPlan(rig, show.kits.kit!) }, 0, at)
  return player
}

function frames(player: Player, from: number, to: number) {
  const seen: { position: number; moves: boolean; bytes: string }[] = []
  for (let n = from; n < to; n++) {
    player.render(n, (n * 1000) / RATE)
    seen.push({
      position: player.position,
      moves: player.moves,
      bytes: Buffer.from(player.levels).toString('hex'),
    })
  }
  return seen
}

describe('play with a count-in', () => {
  it('holds place and look until it is over, then plays the same frames as without', () => {
    const plain = playerAt(BAR)
    plain.press({ do: 'play' }, 0)
    const without = frames(plain, 0, 40)
    const counted = playerAt(BAR)
    const [resting] = frames(counted, 0, 1)
    counted.press({ do: 'play', after: 2 }, 1)
    const waiting = frames(counted, 1, 81)
    expect(waiting).toEqual(Array(80).fill(resting))
    expect(frames(counted, 81, 121)).toEqual(without)
  })

  it('is ended by stop, and by a move, which plays on from there', () => {
    const player = playerAt(0)
    player.press({ do: 'play', after: 1 }, 0)
    frames(player, 0, 10)
    player.press({ do: 'stop' }, 10)
    expect(frames(player, 10, 80).every(f => f.position === 0 && !f.moves)).toBe(true)
    player.press({ do: 'play', after: 1 }, 80)
    frames(player, 80, 90)
    player.press({ do: 'locate', at: 2 * BAR }, 90)
    const [first, second] = frames(player, 90, 92)
    expect([first!.position, first!.moves]).toEqual([2 * BAR, true])
    expect(second!.position).toBeGreaterThan(2 * BAR)
  })

  it('keeps its length when the speed is changed meanwhile', () => {
    const player = playerAt(0)
    player.press({ do: 'play', after: 1 }, 0)
    frames(player, 0, 10)
    player.press({ do: 'speed', factor: 2 }, 10)
    const seen = frames(player, 10, 42)
    expect(seen.findIndex(f => f.moves)).toBe(30)
    expect(seen[31]!.position).toBeCloseTo(96, 6)
  })
})
