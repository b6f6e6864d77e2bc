// kill -9 at the real server: a few of the rounds of `npm run durability`, one of each kind.

import { expect, it } from 'vitest'
import { killRounds } from './kill-rounds.ts'

it('loses no acknowledged edit and damages no file, whichever process is killed while edits come in', async () => {
  const only = ['app', 'engine', 'supervisor', 'tree'] as const
  const { rounds, acknowledged } = await killRounds([1, 2, 3, 4], { only })
  expect(rounds).toEqual({ app: 1, engine: 1, supervisor: 1, tree: 1 })
  expect(acknowledged).toBeGreaterThan(0)
})
