// Carrying a build or a box with the pointer from its list to the plan: what is carried, where, and where it is let go.

import type { PointerEvent } from 'react'
import { create } from 'zustand'

interface Carried {
  readonly kind: 'build' | 'box'
  readonly id: string
  readonly name: string
  /** Of the pointer, px of the page. */
  readonly x: number
  readonly y: number
}

export const useCarried = create<{ carried: Carried | null }>(() => ({ carried: null }))

/** Where the pointer went down. */
let from: { x: number; y: number } | null = null
let wasCarried = false

/** False for the click that ends a carrying. */
export const isPress = (event: { detail: number }): boolean => event.detail === 0 || !wasCarried

/** Pointer travel that makes a press a carrying, px. */
const TRAVEL = 5

/** What lies under the pointer when something is let go. */
export const under = (x: number, y: number, selector: string): HTMLElement | null =>
  document.elementFromPoint(x, y)?.closest<HTMLElement>(selector) ?? null

function end(): void {
  from = null
  useCarried.setState({ carried: null })
  window.removeEventListener('keydown', dropAtEscape, true)
}

function dropAtEscape(event: KeyboardEvent): void {
  if (event.key !== 'Escape') return
  event.stopImmediatePropagation()
  wasCarried = useCarried.getState().carried !== null
  end()
}

/** Handlers for a thing that can be carried. @param drop where it was let go, px of the page */
export function carrying(
  what: Pick<Carried, 'kind' | 'id' | 'name'>,
  drop: (x: number, y: number) => void,
): Record<
  'onPointerDown' | 'onPointerMove' | 'onPointerUp' | 'onPointerCancel',
  (event: PointerEvent) => void
> {
  return {
    onPointerDown(event) {
      if (event.button !== 0) return
      event.currentTarget.setPointerCapture(event.pointerId)
      from = { x: event.clientX, y: event.clientY }
      wasCarried = false
      window.addEventListener('keydown', dropAtEscape, true)
    },
    onPointerMove(event) {
      if (!from) return
      const { clientX: x, clientY: y } = event
      const isOut = Math.hypot(x - from.x, y - from.y) > TRAVEL
      if (isOut || useCarried.getState().carried) useCarried.setState({ carried: { ...what, x, y } })
    },
    onPointerUp(event) {
      const { carried } = useCarried.getState()
      if (!from) return
      wasCarried = carried !== null
      end()
      if (carried) drop(event.clientX, event.clientY)
    },
    onPointerCancel: end,
  }
}
