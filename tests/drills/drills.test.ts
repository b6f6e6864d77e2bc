// A few of the drills inside the tests, as short as they mean something; `npm run drills` runs them all.

import { expect, it } from 'vitest'
import { drills } from './all.ts'
import { lineOf, outcomeOf } from './drill.ts'

const SHORT = ['click-twice', 'asleep']

for (const { name, title } of drills.filter(drill => SHORT.includes(drill.name))) {
  it(`${name}: ${title}`, async () => {
    const drill = drills.find(one => one.name === name)!
    const outcome = await outcomeOf(drill, { minutes: 0, short: true })
    console.log(lineOf(outcome))
    expect(outcome.verdict, lineOf(outcome)).toBe('pass')
  })
}

it('a figure beyond its limit, or one that could not be measured, fails its drill', async () => {
  const figure = { what: 'gap', unit: 'ms', limit: { atMost: 100 } }
  for (const [value, verdict] of [
    [100, 'pass'],
    [101, 'FAIL'],
    [Number.NaN, 'FAIL'],
  ] as const) {
    const drill = { name: 'one', title: 'One', run: async () => [{ ...figure, value }] }
    expect((await outcomeOf(drill, { minutes: 0, short: true })).verdict).toBe(verdict)
  }
})
