// Advice on open faults: fixtures that stand tonight though something is known to be wrong with them.

import type { Rig } from '../rig/schema.ts'
import type { Stage } from '../rig/stage.ts'
import type { Advice } from './advice.ts'

/** One piece of advice a fault of a fixture on the stage. Guests are rented: their faults are not kept. */
export function faultsAdvice(rig: Rig, stage: Stage): Advice[] {
  return stage.fixtures.flatMap(({ id, name }): Advice[] => {
    const fixture = rig.fixtures[id]
    return (fixture?.faults ?? []).map(fault => ({
      kind: 'openFault',
      severity: 'heed',
      place: { fixtures: [id] },
      says: `${name} (serial ${fixture!.serial}) stands tonight with a fault open since ${fault.at.slice(0, 10)}: ${fault.what}`,
      remedy: `Repair ${name} and close the fault, or stand a spare in its place.`,
    }))
  })
}
