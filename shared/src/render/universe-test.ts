// The test pattern of one universe: everything on it fades slowly up and down, all else is dark. A check, step by step.

import { patch } from '../rig/patch.ts'
import type { Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import type { Check } from './check.ts'

/** Up and down once in so many seconds: far below three flashes a second (WCAG 2.2, 2.3.1). */
export const TEST_PERIOD = 2
/** Greatest level, 0…1: seen in a dark room, and a third of the supply at most. */
export const TEST_LEVEL = 0.3
/** It ends by itself, s. */
export const TEST_LASTS = 10

/** What a test raises: the fixtures patched on the universe, and how many slots none of them claims. */
export interface UniverseTest {
  readonly fixtures: readonly string[]
  readonly free: number
  /** What stands on the wire, `seconds` after its start. */
  at(seconds: number): Check
}

/**
 * Fixtures are raised by colour, so that what is sent at one value (a strobe channel, a mode) keeps it. The slots that
 * no fixture claims are raised too: a fixture at the wrong address lights as well.
 */
export function universeTest(rig: Rig, kit: Kit, universe: number): UniverseTest {
  const entries = patch(rig, kit).entries.filter(entry => entry.universe === universe)
  const claimed = new Set<number>()
  for (const { address, slots } of entries) for (let i = 0; i < slots; i++) claimed.add(address + i)
  const free = Array.from({ length: 512 }, (_, i) => i + 1).filter(slot => !claimed.has(slot))
  const fixtures = entries.map(entry => entry.fixture)
  return {
    fixtures,
    free: free.length,
    at(seconds) {
      const level = (TEST_LEVEL / 2) * (1 - Math.cos((2 * Math.PI * seconds) / TEST_PERIOD))
      const all = { red: level, green: level, blue: level, white: level }
      return {
        lights: Object.fromEntries(fixtures.map(id => [id, all])),
        others: 0,
        slots: free.map(address => ({ universe, address, value: level })),
      }
    },
  }
}
