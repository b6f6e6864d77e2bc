// Fixtures gathered on the stage, in the order in which they were clicked: what a part is made of.

import type { Stage, StageFixture } from '@glowchart/shared/rig/stage.ts'
import { create } from 'zustand'
import { inOrder, type Order } from '../part/order.ts'

interface Gathered {
  readonly ids: readonly string[]
  readonly by: Order
  /** They close in a ring. */
  readonly cyclic: boolean
}

const NONE: Gathered = { ids: [], by: 'clicked', cyclic: false }

export const useGathered = create<Gathered>(() => NONE)

/** @param adds to those gathered; else they take their place */
export function gather(ids: readonly string[], adds: boolean): void {
  const had = adds ? useGathered.getState().ids : []
  useGathered.setState({ ids: [...had, ...ids.filter(id => !had.includes(id))] })
}

/** Puts a fixture at the end, or takes it out. */
export function toggleGathered(id: string): void {
  const { ids } = useGathered.getState()
  useGathered.setState({ ids: ids.includes(id) ? ids.filter(other => other !== id) : [...ids, id] })
}

export const dropGathered = (): void => useGathered.setState(NONE)

/** Those that stand tonight, in the order that is chosen. */
export function gatheredOn(stage: Stage, { ids, by }: Gathered): StageFixture[] {
  const standing = ids.flatMap(id => stage.fixtures.find(f => f.id === id) ?? [])
  return inOrder(standing, by)
}
