// A lasso on the stage: a free line around fixtures, or, drawn straight across, a rectangle.

import { type PointerEvent, useRef, useState } from 'react'
import { dropGathered, gather } from './gathered.ts'
import type { Spot } from './view.ts'

interface Point {
  readonly x: number
  readonly y: number
}

/** A pointer that moves less than this, px, has pressed and not dragged. */
const SLACK = 5
/** A line this little longer than the way from its start to its end is straight: the diagonal of a rectangle. */
const STRAIGHT = 1.25

export function useLasso(spots: readonly Spot[]) {
  const path = useRef<Point[] | null>(null)
  const [outline, setOutline] = useState<readonly Point[] | null>(null)
  // A quick hand moves and lets go between two draws of the page.
  const drawn = useRef<readonly Point[] | null>(null)
  const draw = (next: readonly Point[] | null) => {
    drawn.current = next
    setOutline(next)
  }
  const drop = () => {
    path.current = null
    draw(null)
  }
  const pointOf = (event: PointerEvent<HTMLElement>): Point => {
    const box = event.currentTarget.getBoundingClientRect()
    return { x: event.clientX - box.left, y: event.clientY - box.top }
  }
  return {
    outline,
    handlers: {
      onPointerDown(event: PointerEvent<HTMLElement>) {
        // A finger pans; it gathers by taps.
        if (event.button === 0 && event.pointerType !== 'touch') path.current = [pointOf(event)]
      },
      onPointerMove(event: PointerEvent<HTMLElement>) {
        const points = path.current
        if (!points) return
        const now = pointOf(event)
        if (!drawn.current && distance(points[0]!, now) < SLACK) return
        // From here on the press is the stage's, and not a click on the fixture it began on.
        if (!drawn.current) event.currentTarget.setPointerCapture(event.pointerId)
        points.push(now)
        draw(outlineOf(points))
      },
      onPointerUp(event: PointerEvent<HTMLElement>) {
        const pressed = path.current !== null
        const caught = drawn.current
        drop()
        if (!caught) {
          const onButton = (event.target as Element).closest('button') !== null
          if (pressed && !onButton && !event.shiftKey) dropGathered()
          return
        }
        const inside = spots.filter(spot => isInside(caught, spot))
        gather(
          inside.sort((a, b) => a.x - b.x).map(spot => spot.fixture.id),
          event.shiftKey,
        )
      },
      onPointerCancel: drop,
    },
  }
}

const distance = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y)

function outlineOf(points: readonly Point[]): readonly Point[] {
  const [first, last] = [points[0]!, points.at(-1)!]
  const length = points.slice(1).reduce((sum, point, i) => sum + distance(points[i]!, point), 0)
  if (length > STRAIGHT * distance(first, last)) return [...points]
  return [first, { x: last.x, y: first.y }, last, { x: first.x, y: last.y }]
}

/** By the even-odd rule: how many edges lie to the left of the point. */
function isInside(outline: readonly Point[], { x, y }: Point): boolean {
  let inside = false
  for (const [i, a] of outline.entries()) {
    const b = outline[(i + 1) % outline.length]!
    if (a.y > y !== b.y > y && x < ((b.x - a.x) * (y - a.y)) / (b.y - a.y) + a.x) inside = !inside
  }
  return inside
}
