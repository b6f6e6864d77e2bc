// The stage seen from above: metres to pixels and back. The audience is below, house right is right.

import type { Place } from '@glowchart/shared/show/fields.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'

export interface PlanView {
  /** Px a metre. */
  readonly metre: number
  readonly width: number
  readonly height: number
  /** Of the stage's upstage left corner as it is seen, px. */
  readonly left: number
  readonly top: number
  readonly stage: Kit['stage']
  /** There is no room for sockets and names: a phone. */
  readonly compact: boolean
}

/** Room for the scale above, for what hangs over the edges beside, and for names and the key to the lines below, px. */
const ROOM = { top: 50, side: 38, bottom: 78 }

/** Px a metre under which names and sockets would cover each other. */
const COMPACT = 56

export function planView(stage: Kit['stage'], width: number, height: number): PlanView {
  const metre = Math.max(
    24,
    Math.min((width - 2 * ROOM.side) / stage.width, (height - ROOM.top - ROOM.bottom) / stage.depth),
  )
  const left = (width - stage.width * metre) / 2
  return { metre, width, height, left, top: ROOM.top, stage, compact: metre < COMPACT }
}

export const xOf = (view: PlanView, x: number): number => view.left + (x + view.stage.width / 2) * view.metre
export const yOf = (view: PlanView, y: number): number => view.top + (view.stage.depth - y) * view.metre

/** Off the stage by so much at most, m. */
const AROUND = 1
/** The least step of a place that is dragged, m. */
const GRID = 0.05

const held = (value: number, least: number, most: number): number =>
  Number((Math.round(Math.min(most, Math.max(least, value)) / GRID) * GRID).toFixed(2))

/** A place on the plan, on a grid of 5 cm, not far off the stage. */
export const heldPlace = ({ stage }: PlanView, place: Place): Place => ({
  x: held(place.x, -stage.width / 2 - AROUND, stage.width / 2 + AROUND),
  y: held(place.y, -AROUND, stage.depth + AROUND),
  z: place.z,
})

/** The place on the floor under a point of the plan, px from its corner. */
export const placeAt = (view: PlanView, x: number, y: number): Place =>
  heldPlace(view, {
    x: (x - view.left) / view.metre - view.stage.width / 2,
    y: view.stage.depth - (y - view.top) / view.metre,
    z: 0,
  })
