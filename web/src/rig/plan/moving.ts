// Moving a thing about the plan: dragged with the pointer, or by the arrows; it rests as one step back.

import type { Place } from '@glowchart/shared/show/fields.ts'
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import type { Thing } from './things.ts'
import { heldPlace, type PlanView } from './view.ts'

/** Of one press of an arrow, m; with Shift, tenfold. */
const STEP = 0.1
/** So long after the last press of an arrow it rests, ms. */
const REST = 500
/** Pointer travel that makes a press a drag, px. */
const TRAVEL = 4

const arrows: Record<string, readonly [x: number, y: number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

/** @param onRest with the thing where it has come to */
export function useMoving(view: PlanView, onRest: (thing: Thing) => void) {
  const [moved, setMoved] = useState<{ key: string; place: Place } | null>(null)
  const now = useRef<{ thing: Thing; place: Place } | null>(null)
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined)
  const drag = useRef<{ x: number; y: number; from: Place; moves: boolean } | null>(null)
  const latest = useRef(onRest)
  latest.current = onRest

  const move = (thing: Thing, place: Place) => {
    if (now.current && now.current.thing.key !== thing.key) rest()
    now.current = { thing, place: heldPlace(view, place) }
    setMoved({ key: thing.key, place: now.current.place })
  }
  const drop = () => {
    clearTimeout(timer.current)
    const last = now.current
    now.current = null
    setMoved(null)
    return last
  }
  const rest = () => {
    const last = drop()
    if (last) latest.current({ ...last.thing, place: last.place })
  }
  const resting = useRef(rest)
  resting.current = rest
  useEffect(() => () => resting.current(), [])

  const handlers = (thing: Thing) => ({
    onPointerDown(event: PointerEvent) {
      if (event.button !== 0) return
      event.currentTarget.setPointerCapture(event.pointerId)
      drag.current = { x: event.clientX, y: event.clientY, from: thing.place, moves: false }
    },
    onPointerMove(event: PointerEvent) {
      const held = drag.current
      if (!held) return
      const [dx, dy] = [event.clientX - held.x, event.clientY - held.y]
      held.moves ||= Math.hypot(dx, dy) > TRAVEL
      if (!held.moves) return
      const { from } = held
      move(thing, { ...from, x: from.x + dx / view.metre, y: from.y - dy / view.metre })
    },
    onPointerUp() {
      if (drag.current?.moves) rest()
      drag.current = null
    },
    onPointerCancel() {
      drop()
      drag.current = null
    },
    onKeyDown(event: KeyboardEvent) {
      if (event.key === 'Escape' && now.current) {
        drop()
        drag.current = null
        return
      }
      const by = arrows[event.key]
      if (!by || event.ctrlKey || event.metaKey || event.altKey) return
      event.preventDefault()
      const from = now.current?.thing.key === thing.key ? now.current.place : thing.place
      const step = event.shiftKey ? STEP * 10 : STEP
      move(thing, { ...from, x: from.x + by[0] * step, y: from.y + by[1] * step })
      clearTimeout(timer.current)
      timer.current = setTimeout(() => resting.current(), REST)
    },
    onBlur: rest,
  })
  return { moved, handlers }
}
