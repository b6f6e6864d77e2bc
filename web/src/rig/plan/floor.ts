// Where on the stage a point of the page lies, for what is carried to the plan from elsewhere.

import type { Place } from '@glowchart/shared/show/fields.ts'

type Floor = (x: number, y: number) => Place | null

let floor: Floor = () => null

/** Lends the plan's floor. Returns what takes it back. */
export function lendFloor(lent: Floor): () => void {
  floor = lent
  return () => {
    if (floor === lent) floor = () => null
  }
}

/** The place under a point of the page, px; null: it is not over the plan. */
export const floorAt: Floor = (x, y) => floor(x, y)
