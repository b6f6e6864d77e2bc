// The fixtures on the stage for pointer and keyboard: one tab stop, arrows from one to the next, each with its caption.

import { type KeyboardEvent, useRef, useState } from 'react'
import type { Spot } from './view.ts'

interface Props {
  spots: readonly Spot[]
  captions: ReadonlyMap<string, string>
  metre: number
}

export function Fixtures({ spots, captions, metre }: Props) {
  const list = useRef<HTMLUListElement>(null)
  const [current, setCurrent] = useState(0)
  const order = [...spots.keys()].sort((a, b) => spots[a]!.x - spots[b]!.x)

  const onKeyDown = (event: KeyboardEvent) => {
    const by = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0
    if (by === 0) return
    event.preventDefault()
    const next = order[(order.indexOf(current) + by + order.length) % order.length] ?? 0
    setCurrent(next)
    list.current?.querySelectorAll<HTMLElement>('button')[next]?.focus()
  }

  return (
    <ul ref={list} className="fixtures" aria-label="Fixtures, by arrow keys" onKeyDown={onKeyDown}>
      {spots.map((spot, i) => {
        const { width, height } = sizeOf(spot, metre)
        const caption = captions.get(spot.fixture.id) ?? spot.fixture.name
        return (
          <li key={spot.fixture.id} style={{ left: spot.x - width / 2, top: spot.y - height / 2 }}>
            <button
              type="button"
              tabIndex={i === current || (i === 0 && current >= spots.length) ? 0 : -1}
              aria-label={caption}
              style={{ width, height }}
              onFocus={() => setCurrent(i)}
            />
            <span className="caption" aria-hidden="true">
              {caption}
            </span>
          </li>
        )
      })}
    </ul>
  )
}

/** Room to point at: the fixture's own, 24 px at least. */
function sizeOf(spot: Spot, metre: number): { width: number; height: number } {
  const long = spot.fixture.size.long * metre
  const across = Math.max(10, spot.fixture.size.across * metre)
  const upright = spot.fixture.shape === 'tube' || spot.fixture.shape === 'bulb'
  const [w, h] = spot.fixture.shape === 'ring' ? [long, long] : upright ? [across, long] : [long, across]
  const cos = Math.abs(Math.cos(spot.turn))
  const sin = Math.abs(Math.sin(spot.turn))
  return { width: Math.max(24, w * cos + h * sin), height: Math.max(24, w * sin + h * cos) }
}
