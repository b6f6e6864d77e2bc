// A short run of every fuzzer: each area takes or refuses what it is given, whatever it is.

import { expect, it } from 'vitest'
import { areas } from './areas.ts'
import { runAreas } from './run-area.ts'

it('everything that comes from outside is taken, or refused by a coded error', async () => {
  const names = Object.keys(areas)
  const figures = await runAreas(names, { ms: 250, seed: 1, most: 200 })
  for (const [i, { cases }] of figures.entries()) expect(cases, names[i]).toBeGreaterThan(0)
  expect(figures.reduce((sum, { refused }) => sum + refused, 0)).toBeGreaterThan(0)
})
