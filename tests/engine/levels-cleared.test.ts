// What a change of the kit leaves on the wire: a slot that nothing stands on any more is dark.

import { createPlayer } from '@glowchart/server/engine/player.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { expect, it } from 'vitest'
import { sampleShow } from '../advice/sampleShow.ts'

it('clears the slots of lights that are gone, in a universe that others still use', () => {
  const { rig, show } = sampleShow()
  const plan = levelPlan(rig, show.kits.kit!)
  const piece = { song: 'song', revision: 1, compiled: compileSong(rig, show, 'kit', 'song'), plan }
  const player = createPlayer(40)
  player.take(piece, 0, 0)
  player.press({ do: 'play' }, 0)
  for (const frame of [0, 1, 2]) player.render(frame, frame * 25)
  const lit = player.levels.findIndex(level => level > 0)
  expect(lit).toBeGreaterThanOrEqual(0)
  const emptied = { ...show.kits.kit!, boxes: {}, guests: {} }
  const shown = { ...show, kits: { ...show.kits, kit: emptied } }
  player.take(
    {
      ...piece,
      compiled: compileSong(rig, shown, 'kit', 'song'),
      plan: { ...levelPlan(rig, emptied), universes: plan.universes },
    },
    3,
  )
  player.render(3, 75)
  expect(player.levels.every(level => level === 0)).toBe(true)
})
