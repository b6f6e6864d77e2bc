// A short run of every fuzzer: each area takes or refuses what it is given, whatever it is.

import { expect, it } from 'vitest'
import { areas } from './areas.ts'
import { runArea } from './run-area.ts'

it.each(Object.keys(areas))('takes or refuses whatever it is given, by a coded error: %s', async name => {
  const { cases, refused } = await runArea(name, { ms: 300, seed: 1, most: 200 })
  expect(cases).toBeGreaterThan(0)
  expect(refused).toBeGreaterThan(0)
})
