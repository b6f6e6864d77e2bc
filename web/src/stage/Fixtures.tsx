// The fixtures on the stage for pointer and keyboard: one tab stop, arrows from one to the next, each with its caption.
// A press gathers one; held long, or held by Enter, it is lit to be found.

import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import { toggleGathered } from './gathered.ts'
import { letGo, lightUp } from './LightButton.tsx'
import { type Spot, sizeOf } from './view.ts'

interface Props {
  spots: readonly Spot[]
  captions: ReadonlyMap<string, string>
  /** Of those gathered, by fixture id. */
  numbers: ReadonlyMap<string, number>
  metre: number
  /** Of the band, px. */
  width: number
}

/** Nearer to an edge than this, px, a caption stands inwards of its fixture. */
const EDGE = 130

export function Fixtures({ spots, captions, numbers, metre, width: band }: Props) {
  const list = useRef<HTMLUListElement>(null)
  const [current, setCurrent] = useState(0)
  const order = [...spots.keys()].sort((a, b) => spots[a]!.x - spots[b]!.x)

  const finding = useFinding()

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
        const number = numbers.get(spot.fixture.id)
        const caption = captions.get(spot.fixture.id) ?? spot.fixture.name
        return (
          <li key={spot.fixture.id} style={{ left: spot.x - width / 2, top: spot.y - height / 2 }}>
            <button
              type="button"
              tabIndex={i === current || (i === 0 && current >= spots.length) ? 0 : -1}
              aria-label={number ? `${caption}, gathered as number ${number}` : caption}
              aria-pressed={number !== undefined}
              aria-description="Space gathers it; hold Enter to light it"
              style={{ width, height }}
              onFocus={() => setCurrent(i)}
              {...finding(spot.fixture.id)}
            />
            {number && (
              <span className="gathered-number" aria-hidden="true">
                {number}
              </span>
            )}
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

/** A pointer held this long on a fixture, ms, wants to find it. */
const LONG = 450

/** What a press on a fixture does. */
function useFinding() {
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined)
  const found = useRef(false)
  const wasLit = useRef(false)
  const begin = (id: string) => {
    found.current = true
    wasLit.current = true
    lightUp(id)
  }
  const end = () => {
    clearTimeout(timer.current)
    if (found.current) letGo()
    found.current = false
  }
  useEffect(
    () => () => {
      clearTimeout(timer.current)
      if (found.current) letGo()
    },
    [],
  )
  return (id: string) => ({
    onPointerDown(event: PointerEvent) {
      wasLit.current = false
      if (event.button === 0) timer.current = setTimeout(() => begin(id), LONG)
    },
    onPointerUp: end,
    onPointerLeave: end,
    onPointerCancel: end,
    onBlur: end,
    onKeyDown(event: KeyboardEvent) {
      if (event.key !== 'Enter' && event.key !== ' ') return
      // Here, as Space would play and stop once a fixture has been clicked.
      event.preventDefault()
      if (event.repeat) return
      if (event.key === 'Enter') begin(id)
      else toggleGathered(id)
    },
    onKeyUp(event: KeyboardEvent) {
      if (event.key === 'Enter') end()
      if (event.key === ' ') event.preventDefault()
    },
    onContextMenu: (event: { preventDefault(): void }) => event.preventDefault(),
    onClick() {
      if (!wasLit.current) toggleGathered(id)
      wasLit.current = false
    },
  })
}
