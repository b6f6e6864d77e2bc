// The line check in the player: exactly the slots that are asked for, dark when nobody holds it, never over a song.

import { createPlayer, type Player } from '@glowchart/server/engine/player.ts'
import { type Check, checkSchema } from '@glowchart/shared/render/check.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import { describe, expect, it } from 'vitest'
import { sampleShow } from '../advice/sampleShow.ts'

const { rig, show } = sampleShow()
const kit = show.kits.kit!
const BAR = 3840
const UNTIL = 10_000

function player(): Player {
  const made = createPlayer(40)
  made.take(
    { song: 'song', revision: 1, compiled: compileSong(rig, show, 'kit', 'song'), plan: levelPlan(rig, kit) },
    0,
    BAR,
  )
  return made
}

/** Slots that are not 0, 1-based → value. */
function lit(player: Player, frame = 0, due = 0): Record<number, number> {
  player.render(frame, due)
  return Object.fromEntries([...player.levels].flatMap((value, i) => (value > 0 ? [[i + 1, value]] : [])))
}

const check = (of: Partial<Check>): Check => checkSchema.parse(of)

describe('a line check', () => {
  it('raises the slots of one light, socket by socket, and nothing else', () => {
    const held = player()
    expect(Object.keys(lit(held)).length, 'the song rests on a look').toBeGreaterThan(3)
    for (const { fixture, address } of patch(rig, kit).entries) {
      held.setCheck(check({ lights: { [fixture]: { red: 0, green: 1, blue: 0, white: 0 } } }), UNTIL)
      expect(lit(held)).toEqual({ [address + 1]: 255 })
      held.setCheck(check({ lights: { [fixture]: { red: 1, green: 1, blue: 1, white: 0 } } }), UNTIL)
      expect(lit(held)).toEqual({ [address]: 255, [address + 1]: 255, [address + 2]: 255 })
    }
  })

  it('lets all the others glow, and raises single slots by number', () => {
    const held = player()
    held.setCheck(check({ others: 0.1, slots: [{ universe: 1, address: 100, value: 0.5 }] }), UNTIL)
    const slots = lit(held)
    expect(slots[100]).toBe(128)
    expect(Object.values(slots).filter(value => value === 26)).toHaveLength(48)
  })

  it('goes dark when it is over or not held any longer, and stays dark until the transport is pressed', () => {
    const held = player()
    const before = lit(held)
    const one = check({ lights: { t0: { red: 1, green: 0, blue: 0, white: 0 } } })
    held.setCheck(one, 2000)
    expect(lit(held, 1, 2000)).toEqual({ 1: 255 })
    expect(lit(held, 2, 2000.1)).toEqual({})
    expect(held.check).toBe('dark')
    held.setCheck(one, 5000)
    expect(lit(held, 3, 2100)).toEqual({ 1: 255 })
    held.setCheck(null, 0)
    expect(lit(held, 4, 2200)).toEqual({})
    held.press({ do: 'locate', at: BAR }, 5)
    expect(lit(held, 5, 2300)).toEqual(before)
    expect(held.check).toBe('off')
  })

  it('is refused while a song plays, and gives way to one that starts', () => {
    const held = player()
    held.setCheck(check({}), UNTIL)
    expect(lit(held)).toEqual({})
    held.press({ do: 'play' }, 1)
    expect(Object.keys(lit(held, 1, 25)).length).toBeGreaterThan(3)
    expect(held.check).toBe('off')
    expect(held.setCheck(check({}), UNTIL)).toMatchObject({ code: 'check.playing' })
    expect(Object.keys(lit(held, 2, 50)).length).toBeGreaterThan(3)
  })
})
