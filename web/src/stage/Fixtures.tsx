// The fixtures on the stage for pointer and keyboard: one tab stop, arrows from one to the next, each with its caption.

import { type KeyboardEvent, useRef, useState } from 'react'
import { type Spot, sizeOf } from './view.ts'

interface Props {
  spots: readonly Spot[]
  captions: ReadonlyMap<string, string>
  metre: number
  /** Of the band, px. */
  width: number
}

/** Nearer to an edge than this, px, a caption stands inwards of its fixture. */
const EDGE = 130

export function Fixtures({ spots, captions, metre, width: band }: Props) {
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
            <span className={`caption${sideOf(spot.x, band)}`} aria-hidden="true">
              {caption}
            </span>
          </li>
        )
      })}
    </ul>
  )
}

const sideOf = (x: number, band: number): string =>
  x > band - EDGE ? ' ends-here' : x < EDGE ? ' begins-here' : ''
