// The orders in which a part plays over its fixtures.

import type { StageFixture } from '@glowchart/shared/rig/stage.ts'
import { inOrder, type Order } from '@glowchart/web/part/order.ts'
import { expect, it } from 'vitest'

const at = (id: string, x: number, z: number) => ({ id, place: { x, y: 0, z } }) as StageFixture
const ids = (fixtures: readonly StageFixture[], by: Order) => inOrder(fixtures, by).map(f => f.id)

it('keeps the order of the clicks, or goes from left to right, or from the floor up', () => {
  const three = [at('b', 2, 1), at('c', -1, 3), at('a', 0, 1)]
  expect(ids(three, 'clicked')).toEqual(['b', 'c', 'a'])
  expect(ids(three, 'across')).toEqual(['c', 'a', 'b'])
  expect(ids(three, 'up')).toEqual(['a', 'b', 'c'])
})

it('goes round a ring clockwise as the house sees it, from the top', () => {
  const ring = [at('left', -1, 2), at('low', 0, 1), at('right', 1, 2), at('top', 0, 3)]
  expect(ids(ring, 'ring')).toEqual(['top', 'right', 'low', 'left'])
})
