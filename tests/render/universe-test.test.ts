// The test pattern of a universe: all of it and nothing else, slowly, never bright, and no setting of a fixture touched.

import { checkLevels, checkSchema } from '@glowchart/shared/render/check.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { TEST_LASTS, universeTest } from '@glowchart/shared/render/universe-test.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { expect, test } from 'vitest'
import { sampleShow } from '../advice/sampleShow.ts'

const { rig, show } = sampleShow()
const kit = show.kits.kit!

/** A rented light with a dimmer and a slot that strobes, on universe 2 from address 101. */
const build = Object.values(rig.builds)[0]!
const withGuest: { rig: Rig; kit: Kit } = {
  rig: {
    ...rig,
    builds: {
      ...rig.builds,
      rented: {
        ...build,
        name: 'Rented',
        channels: [
          { does: 'intensity', bits: 8 },
          { does: 'red', bits: 8, cell: 0 },
          { does: 'fixed', bits: 8, value: 0.2 },
        ],
      },
    },
  },
  kit: {
    ...kit,
    guests: {
      g: {
        name: 'Guest',
        build: 'rented',
        universe: 2,
        address: 101,
        place: { x: 0, y: 0, z: 0 },
        turn: 0,
        trim: 1,
      },
    },
  },
}

/** Levels of universe 2, ten a second as the page sends them, and the greatest level elsewhere. */
function run(): { own: Uint8Array[]; elsewhere: number } {
  const plan = levelPlan(withGuest.rig, withGuest.kit)
  expect(plan.universes).toEqual([1, 2])
  const pattern = universeTest(withGuest.rig, withGuest.kit, 2)
  const own: Uint8Array[] = []
  let elsewhere = 0
  for (let step = 0; step <= TEST_LASTS * 10; step++) {
    const out = new Uint8Array(1024)
    checkLevels(plan, checkSchema.parse(pattern.at(step / 10)), out)
    elsewhere = Math.max(elsewhere, ...out.subarray(0, 512))
    own.push(out.subarray(512))
  }
  return { own, elsewhere }
}

test('every slot fades up and down once in two seconds, to 30 %', () => {
  const { own } = run()
  for (const slot of [1, 100, 102, 104, 512]) {
    const values = own.map(levels => levels[slot - 1]!)
    expect(Math.max(...values), `slot ${slot}`).toBe(77) // 0.3 × 255, rounded
    expect(Math.min(...values)).toBe(0)
    const rises = values.filter((v, i) => i > 0 && v > 0 && values[i - 1] === 0).length
    expect(rises / TEST_LASTS, 'flashes a second').toBe(0.5)
    const steps = values.slice(1).map((v, i) => Math.abs(v - values[i]!))
    expect(Math.max(...steps), 'a step between two tellings').toBeLessThanOrEqual(13)
  }
})

test('a slot that is sent at one value keeps it, and a dimmer is open only while there is light', () => {
  const { own } = run()
  expect(new Set(own.map(levels => levels[102]))).toEqual(new Set([51]))
  expect(new Set(own.map(levels => levels[100]))).toEqual(new Set([0, 255]))
})

test('the other universes are dark', () => {
  expect(run().elsewhere).toBe(0)
  const { fixtures, free } = universeTest(withGuest.rig, withGuest.kit, 2)
  expect(fixtures).toEqual(['g'])
  expect(free).toBe(509)
})
