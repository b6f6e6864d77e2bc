// Putting fixtures in the order in which a part plays over them, by where they stand.

import type { StageFixture } from '@glowchart/shared/rig/stage.ts'

export const orders = ['clicked', 'across', 'up', 'ring'] as const
export type Order = (typeof orders)[number]

export const orderNames: Record<Order, string> = {
  clicked: 'as clicked',
  across: 'left to right',
  up: 'bottom to top',
  ring: 'round a ring',
}

/**
 * The fixtures in an order: `clicked` as they are given, `across` from house left, `up` from the floor (on one height
 * from house left), `ring` clockwise as the house sees it, around their middle, from the top on.
 */
export function inOrder(fixtures: readonly StageFixture[], by: Order): StageFixture[] {
  if (by === 'clicked') return [...fixtures]
  const across = (a: StageFixture, b: StageFixture) => a.place.x - b.place.x
  if (by === 'across') return [...fixtures].sort((a, b) => across(a, b) || a.place.z - b.place.z)
  if (by === 'up') return [...fixtures].sort((a, b) => a.place.z - b.place.z || across(a, b))
  const mean = (value: (f: StageFixture) => number) =>
    fixtures.reduce((sum, f) => sum + value(f), 0) / fixtures.length
  const [x, z] = [mean(f => f.place.x), mean(f => f.place.z)]
  // From the top, clockwise: 0 up to 2π.
  const angle = ({ place }: StageFixture) => {
    const turn = Math.atan2(place.x - x, place.z - z)
    return turn < -1e-9 ? turn + 2 * Math.PI : turn
  }
  return [...fixtures].sort((a, b) => angle(a) - angle(b))
}
