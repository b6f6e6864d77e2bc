// The pointer on the chart: a press goes to that place in the song; a drag along the bar numbers loops those bars.

import { barStart } from '@glowchart/shared/time/meter.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { type PointerEvent, useRef, useState } from 'react'
import { type Page, tickAt } from './page.ts'

/** Bars from…to, both included, 0-based from the song's start. */
interface Dragged {
  readonly from: number
  readonly to: number
}

interface Actions {
  locate: (tick: number) => void
  loop: (from: number, to: number) => void
}

const NUMBERS = 13
/** A pointer that moves less than this, px, has pressed and not dragged. */
const SLACK = 4

export function usePointer(page: Page, timeline: Timeline, { locate, loop }: Actions) {
  const start = useRef<{ x: number; y: number; bar: number; onNumbers: boolean } | null>(null)
  const [dragged, setDragged] = useState<Dragged | null>(null)

  const placeOf = (event: PointerEvent<HTMLElement>) => {
    const box = event.currentTarget.getBoundingClientRect()
    const x = event.clientX - box.left
    const y = event.clientY - box.top
    const spot = tickAt(page, x, y)
    if (!spot) return null
    const { at, bars } = spot
    const bar = at.line.firstBar + Math.min(at.line.bars - 1, Math.max(0, Math.floor(bars)))
    const inside = bars >= 0 && bars < at.line.bars
    return { x, y, bar, inside, tick: spot.tick, onNumbers: at.open && y < at.fieldTop + NUMBERS }
  }

  return {
    dragged,
    handlers: {
      onPointerDown(event: PointerEvent<HTMLElement>) {
        if (event.button !== 0 || (event.target as Element).closest('button')) return
        const place = placeOf(event)
        start.current = place?.inside ? place : null
        if (place?.inside && place.onNumbers) event.currentTarget.setPointerCapture(event.pointerId)
      },
      onPointerMove(event: PointerEvent<HTMLElement>) {
        const from = start.current
        if (!from?.onNumbers) return
        const place = placeOf(event)
        if (!place || (!dragged && Math.abs(place.x - from.x) + Math.abs(place.y - from.y) < SLACK)) return
        setDragged({ from: Math.min(from.bar, place.bar), to: Math.max(from.bar, place.bar) })
      },
      onPointerUp(event: PointerEvent<HTMLElement>) {
        const from = start.current
        start.current = null
        if (dragged) {
          setDragged(null)
          loop(barStart(timeline.meters, dragged.from), barStart(timeline.meters, dragged.to + 1))
          return
        }
        const place = placeOf(event)
        if (!from || !place?.inside || Math.abs(place.x - from.x) + Math.abs(place.y - from.y) >= SLACK)
          return
        locate(place.onNumbers ? barStart(timeline.meters, place.bar) : place.tick)
      },
      onPointerCancel() {
        start.current = null
        setDragged(null)
      },
    },
  }
}
