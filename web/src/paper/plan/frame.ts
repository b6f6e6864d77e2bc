// The stage from above on paper: metres to px, the audience at the foot, and where labels find room.

import type { Kit } from '@glowchart/shared/show/schema.ts'

export interface Frame {
  /** Px a metre. */
  readonly metre: number
  readonly width: number
  readonly height: number
  /** Metres at the edges of what is drawn. */
  readonly left: number
  readonly right: number
  readonly back: number
  readonly front: number
}

/** Room for the scales along the edges, px. */
export const EDGE = 34
/** Under the front edge: the audience. */
const FOOT = 38
/** A symbol reaches so far over its place, m. */
const REACH = 0.35

/** Fits the stage, and what stands beside it, in a width and a height. */
export function frameOf(kit: Kit, width: number, most: number): Frame {
  const places = [
    ...Object.values(kit.boxes).flatMap(box => [
      box.place,
      ...Object.values(box.sockets).map(stand => stand.place),
    ]),
    ...Object.values(kit.guests).map(guest => guest.place),
  ]
  const across = places.map(place => place.x)
  const deep = places.map(place => place.y)
  const half = kit.stage.width / 2
  const left = Math.min(-half, ...across.map(x => x - REACH))
  const right = Math.max(half, ...across.map(x => x + REACH))
  const front = Math.min(0, ...deep.map(y => y - REACH))
  const back = Math.max(kit.stage.depth, ...deep.map(y => y + REACH))
  const metre = Math.min((width - 2 * EDGE) / (right - left), (most - EDGE - FOOT) / (back - front))
  return { metre, width, height: (back - front) * metre + EDGE + FOOT, left, right, back, front }
}

export const acrossOf = (x: number, frame: Frame): number =>
  frame.width / 2 + (x - (frame.left + frame.right) / 2) * frame.metre
export const downOf = (y: number, frame: Frame): number => EDGE + (frame.back - y) * frame.metre

export interface Area {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

const touches = (a: Area, b: Area): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height

const overlapOf = (a: Area, b: Area): number =>
  touches(a, b)
    ? (Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
      (Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y))
    : 0

/**
 * Where a label of a size stands beside its symbol: below, right, left, above, then further off; the first that touches
 * nothing `taken` and lies within the frame, or the one that covers least.
 */
export function roomBeside(
  symbol: Area,
  width: number,
  height: number,
  taken: readonly Area[],
  frame: Frame,
): Area {
  const middle = symbol.x + symbol.width / 2 - width / 2
  const level = symbol.y + symbol.height / 2 - height / 2
  const options: Area[] = []
  for (const gap of [2, 10, 20]) {
    const below = symbol.y + symbol.height + gap
    const above = symbol.y - height - gap
    const after = symbol.x + symbol.width + gap + 1
    const before = symbol.x - width - gap - 1
    for (const [x, y] of [
      [middle, below],
      [after, level],
      [before, level],
      [middle, above],
      [after, below],
      [before, below],
      [after, above],
      [before, above],
    ] as const) {
      options.push({ x, y, width, height })
    }
  }
  const cost = (option: Area): number => {
    const out =
      option.x < 0 ||
      option.x + width > frame.width ||
      option.y < EDGE ||
      option.y + height > frame.height - 4
    return taken.reduce((sum, area) => sum + overlapOf(option, area), out ? 1e6 : 0)
  }
  return options.reduce((best, option) => (cost(option) < cost(best) ? option : best))
}
