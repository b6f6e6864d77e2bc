// A value that is dragged sideways, wheeled, stepped with the arrows, or typed.

import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import { useFollowed } from '../access/read-only.ts'
import './figure.css'

export interface FigureProps<T> {
  label: string
  /** What is seen of the label, where there is little room. */
  short?: string
  /** Null: several values at once. */
  value: T | null
  /** Where stepping begins while there are several. */
  first: T
  text: (value: T) => string
  number: (value: T) => number
  /** Null when the text says no value. */
  parse: (text: string) => T | null
  /** The value `n` steps up (or down, negative), held to its range. */
  step: (value: T, n: number) => T
  /** While it moves. */
  onDraft?: (value: T) => void
  /** When it rests: one change a gesture. */
  onChange: (value: T) => unknown
}

/** Pointer travel for one step, px. */
const TRAVEL = 5
/** So long after the last turn of the wheel or press of an arrow the value rests, ms. */
const REST = 350
const LARGE = 8

/** A wheel that turns on within this, ms, goes on with what it did. */
const SAME_TURN = 300
/** What was scrolled last, and when: a panel that is scrolled carries figures under the pointer. */
const scrolled: { what: EventTarget | null; at: number } = { what: null, at: Number.NEGATIVE_INFINITY }
if (typeof document !== 'undefined') {
  const take = ({ target, timeStamp }: Event) => Object.assign(scrolled, { what: target, at: timeStamp })
  document.addEventListener('scroll', take, { capture: true, passive: true })
}

export function Figure<T>(props: FigureProps<T>) {
  const { label, value, text, number } = props
  const isOff = useFollowed() !== null
  const box = useRef<HTMLDivElement>(null)
  const [held, setHeld] = useState<T | null>(null)
  const [typed, setTyped] = useState<string | null>(null)
  const moving = useRef<{ value: T; timer: ReturnType<typeof setTimeout> | undefined } | null>(null)
  const drag = useRef<{ x: number; from: T; was: T | null; moved: boolean } | null>(null)
  const latest = useRef(props)
  latest.current = props

  const move = (to: T) => {
    clearTimeout(moving.current?.timer)
    moving.current = { value: to, timer: undefined }
    setHeld(to)
    latest.current.onDraft?.(to)
  }
  const rest = async (onChange = latest.current.onChange) => {
    const moved = moving.current
    if (!moved) return
    clearTimeout(moved.timer)
    moving.current = null
    await onChange(moved.value)
    if (!moving.current) setHeld(null)
  }
  /** Back to where it was before the drag; of several values nobody knows where. */
  const drop = () => {
    const was = drag.current?.was ?? null
    drag.current = null
    if (moving.current && was !== null) move(was)
    void rest()
  }
  const restSoon = () => {
    if (moving.current) moving.current.timer = setTimeout(rest, REST)
  }
  const now = () => moving.current?.value ?? latest.current.value ?? latest.current.first
  const stepBy = (n: number) => {
    move(latest.current.step(now(), n))
    restSoon()
  }
  const steps = useRef({ stepBy, rest })
  steps.current = { stepBy, rest }

  const isTyped = typed !== null
  // biome-ignore lint/correctness/useExhaustiveDependencies: what was typed into makes room for another element.
  useEffect(() => {
    const element = box.current
    if (!element) return
    // React listens to the wheel passively, so that the panel would scroll along.
    const onWheel = (event: WheelEvent) => {
      const { what, at } = scrolled
      if (what instanceof Node && what.contains(element) && event.timeStamp - at < SAME_TURN) {
        scrolled.at = event.timeStamp
        return
      }
      event.preventDefault()
      steps.current.stepBy(event.deltaY < 0 ? 1 : -1)
    }
    element.addEventListener('wheel', onWheel, { passive: false })
    return () => element.removeEventListener('wheel', onWheel)
  }, [isTyped])
  useEffect(() => () => void steps.current.rest(), [])

  const onPointerMove = (event: PointerEvent) => {
    const held = drag.current
    if (!held) return
    const n = Math.round((event.clientX - held.x) / TRAVEL)
    if (n !== 0) held.moved = true
    if (held.moved) move(latest.current.step(held.from, n))
  }
  const onPointerUp = () => {
    const held = drag.current
    drag.current = null
    if (held?.moved) void rest()
    else if (held) setTyped('')
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const by: Record<string, number> = {
      ArrowUp: 1,
      ArrowRight: 1,
      ArrowDown: -1,
      ArrowLeft: -1,
      PageUp: LARGE,
      PageDown: -LARGE,
    }
    if (event.ctrlKey || event.metaKey || event.altKey) return
    if (event.key === 'Escape' && drag.current) {
      event.stopPropagation()
      return drop()
    }
    const n = by[event.key]
    if (n !== undefined) stepBy(n)
    else if (event.key === 'Enter') setTyped('')
    else if (/^[\d.]$/.test(event.key)) setTyped(event.key)
    else return
    event.preventDefault()
    event.stopPropagation()
  }

  const shown = held ?? value
  const says = shown === null ? 'mixed' : text(shown)
  if (typed !== null) {
    return (
      <span className="figure">
        <span aria-hidden="true">{props.short ?? label}</span>
        <TypedFigure
          label={label}
          first={typed}
          now={typed === '' && shown !== null ? text(shown) : typed}
          onDone={async (entry, byKey) => {
            const parsed = entry === null ? null : props.parse(entry.trim())
            setTyped(null)
            if (byKey) requestAnimationFrame(() => box.current?.focus())
            if (parsed === null) return
            move(parsed)
            await rest()
          }}
        />
      </span>
    )
  }
  return (
    <div
      ref={box}
      className="figure"
      role="spinbutton"
      tabIndex={isOff ? -1 : 0}
      aria-disabled={isOff || undefined}
      aria-label={label}
      aria-valuenow={shown === null ? undefined : number(shown)}
      aria-valuetext={says}
      onPointerDown={event => {
        if (event.button !== 0) return
        event.currentTarget.setPointerCapture(event.pointerId)
        drag.current = { x: event.clientX, from: now(), was: value, moved: false }
      }}
      onPointerMove={onPointerMove}
      onPointerUp={onPointerUp}
      onPointerCancel={drop}
      onKeyDown={onKeyDown}
      // Pressed by assistive technology, without a pointer.
      onClick={event => event.detail === 0 && setTyped('')}
      onBlur={() => void rest()}
    >
      <span>{props.short ?? label}</span>
      <b className={shown === null ? 'mixed' : ''}>{says}</b>
    </div>
  )
}

interface TypedProps {
  label: string
  first: string
  now: string
  /** Null: left as it was. `byKey`: Enter or Escape; else something else has come into focus. */
  onDone: (entry: string | null, byKey: boolean) => void
}

function TypedFigure({ label, first, now, onDone }: TypedProps) {
  const input = useRef<HTMLInputElement>(null)
  const done = useRef(false)
  const finish = (entry: string | null, byKey: boolean) => {
    if (done.current) return
    done.current = true
    // What stood there, rounded as it is said, is not a new value.
    onDone(first === '' && entry === now ? null : entry, byKey)
  }
  useEffect(() => {
    input.current?.focus()
    if (first === '') input.current?.select()
  }, [first])
  return (
    <input
      ref={input}
      aria-label={label}
      defaultValue={now}
      autoComplete="off"
      spellCheck={false}
      onBlur={event => finish(event.target.value, false)}
      onKeyDown={event => {
        if (event.key === 'Enter') finish(event.currentTarget.value, true)
        else if (event.key === 'Escape') finish(null, true)
        else return
        event.stopPropagation()
      }}
    />
  )
}
