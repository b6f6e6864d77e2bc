// Begins and ends the test of one universe, and says what should be seen meanwhile.

import { TEST_LASTS, TEST_LEVEL, universeTest } from '@glowchart/shared/render/universe-test.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import type { useUniverseTesting } from './universe-testing.ts'

interface Props {
  rig: Rig
  kit: Kit
  universe: number
  testing: ReturnType<typeof useUniverseTesting>
}

export function UniverseTestButton({ rig, kit, universe, testing }: Props) {
  const test = useMemo(() => universeTest(rig, kit, universe), [rig, kit, universe])
  const runs = testing.universe === universe
  const count = test.fixtures.length
  return (
    <>
      <button
        type="button"
        className="btn"
        aria-pressed={runs}
        onClick={() => (runs ? testing.stop() : testing.start(universe, test))}
      >
        {runs ? `Stop the test, ${testing.left} s` : `Test universe ${universe}`}
      </button>
      {runs && (
        <p className="test-says" role="status">
          {count} {count === 1 ? 'fixture' : 'fixtures'} on universe {universe} should fade slowly up and
          down, to {TEST_LEVEL * 100} %, for {TEST_LASTS} s; so does anything else that listens to this
          universe. All other universes are dark.
        </p>
      )}
    </>
  )
}
