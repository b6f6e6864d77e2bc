// Swipes of the line check: right passes, left fails. Only by finger, and only where nothing scrolls sideways.

import { type PointerEvent, useRef } from 'react'

/** A swipe is this long, px, at least, twice as long as it is high, and done within this many ms. */
const LONG = 70
const SOON = 800

export function useSwipe(right: () => void, left: () => void) {
  const from = useRef<{ x: number; y: number; at: number; id: number } | null>(null)
  const end = (event: PointerEvent) => {
    const began = from.current
    from.current = null
    if (!began || began.id !== event.pointerId || event.timeStamp - began.at > SOON) return
    const x = event.clientX - began.x
    if (Math.abs(x) < LONG || Math.abs(x) < 2 * Math.abs(event.clientY - began.y)) return
    if (x > 0) right()
    else left()
  }
  return {
    onPointerDown(event: PointerEvent) {
      if (event.pointerType !== 'touch' || !event.isPrimary) return
      from.current = { x: event.clientX, y: event.clientY, at: event.timeStamp, id: event.pointerId }
    },
    onPointerUp: end,
    onPointerCancel: () => {
      from.current = null
    },
  }
}
