// Asks about the open faults of a light that has just passed: mended, or still to be looked after.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { closeFaults, useChecking } from './checking.ts'

export function Mended({ rig }: { rig: Rig }) {
  const mended = useChecking(s => s.mended)
  const fixture = mended === null ? undefined : rig.fixtures[mended]
  if (!fixture || fixture.faults.length === 0) return null
  return (
    <section className="ask" aria-label={`Open faults of ${fixture.name}`}>
      <p>
        {fixture.name} passed. Is it mended: “{fixture.faults.map(({ what }) => what).join('; ')}”?
      </p>
      <button type="button" className="btn" onClick={() => closeFaults(true)}>
        Mended, close it
      </button>
      <button type="button" className="btn quiet" onClick={() => closeFaults(false)}>
        Keep it open
      </button>
    </section>
  )
}
