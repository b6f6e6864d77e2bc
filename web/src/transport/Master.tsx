// A master. By keys it is a slider; a finger moves it by its own way, so that a brush cannot jump it; a mouse where it is asked to.

import { type CSSProperties, type PointerEvent, useEffect, useRef, useState } from 'react'
import { useLooksOn } from '../access/looking-on.ts'
import { readOnlyWords, useFollowed } from '../access/read-only.ts'

interface Props {
  name: string
  /** 0…1, as the engine has it. */
  told: number
  /** A mouse drags it by its own way too: one stray click must not set it. */
  relative?: boolean
  onChange: (value: number) => void
}

/** What a hand has set is shown so long, ms, whatever the engine says meanwhile. */
const HELD = 500

export function Master({ name, told, relative = false, onChange }: Props) {
  const looksOn = useLooksOn()
  const followed = useFollowed()
  const isOff = looksOn || followed !== null
  const [hand, setHand] = useState<number | null>(null)
  const drag = useRef<{ x: number; from: number; width: number } | null>(null)
  const sending = useRef(0)
  const value = hand ?? told
  // The engine has it by then: what others set shows again, and the next key goes on from there.
  useEffect(() => {
    if (hand === null) return
    const timer = setTimeout(() => drag.current || setHand(null), HELD)
    return () => clearTimeout(timer)
  }, [hand])

  const set = (next: number) => {
    const value = Math.min(1, Math.max(0, Math.round(next * 100) / 100))
    setHand(value)
    // One message a repaint, the last value: a drag makes hundreds.
    cancelAnimationFrame(sending.current)
    sending.current = requestAnimationFrame(() => onChange(value))
  }
  const drags = (event: PointerEvent<HTMLLabelElement>) =>
    event.pointerType === 'touch' || (relative && event.button === 0)

  return (
    <label
      className="grand"
      title={followed === null ? undefined : readOnlyWords(followed)}
      onPointerDown={e => {
        if (!drags(e) || isOff) return
        e.preventDefault()
        e.currentTarget.setPointerCapture(e.pointerId)
        drag.current = { x: e.clientX, from: value, width: Math.max(120, e.currentTarget.clientWidth) }
      }}
      onPointerMove={e => {
        if (drag.current) set(drag.current.from + (e.clientX - drag.current.x) / drag.current.width)
      }}
      onPointerUp={() => {
        drag.current = null
        setHand(null)
      }}
      onPointerCancel={() => {
        drag.current = null
        setHand(null)
      }}
    >
      <span>{name}</span>
      <input
        type="range"
        disabled={isOff}
        min="0"
        max="100"
        value={Math.round(value * 100)}
        style={{ '--at': `${value * 100}%` } as CSSProperties}
        onChange={e => set(Number(e.target.value) / 100)}
        onBlur={() => setHand(null)}
      />
      <output>{Math.round(value * 100)}</output>
    </label>
  )
}
