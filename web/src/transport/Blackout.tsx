// Blackout: hold to fire, so that a brush does nothing; once dark, one press restores.

import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { useLooksOn } from '../access/looking-on.ts'
import { readOnlyWords, useFollowed } from '../access/read-only.ts'
import { useSession } from '../document/session.ts'
import { setLive } from '../live/desk.ts'
import { Sign } from '../ui/signs.tsx'
import { onBlackoutKey } from './keys.ts'

const HOLD = 350

export function Blackout() {
  const dark = useSession(s => s.status?.live.blackout ?? false)
  const looksOn = useLooksOn()
  const followed = useFollowed()
  const isOff = looksOn || followed !== null
  const [holding, setHolding] = useState(false)
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined)

  const begin = useRef(() => {})
  const end = useRef(() => {})
  begin.current = () => {
    if (isOff) return
    if (dark) {
      setLive({ blackout: false })
      return
    }
    if (holding) return
    setHolding(true)
    timer.current = setTimeout(() => {
      setHolding(false)
      setLive({ blackout: true })
    }, HOLD)
  }
  end.current = () => {
    clearTimeout(timer.current)
    setHolding(false)
  }
  useEffect(() => onBlackoutKey({ down: () => begin.current(), up: () => end.current() }), [])
  useEffect(() => () => clearTimeout(timer.current), [])

  const pressed = (event: KeyboardEvent) => (event.key === ' ' || event.key === 'Enter') && !event.repeat
  return (
    <button
      type="button"
      className={`blackout${holding ? ' holding' : ''}`}
      aria-pressed={dark}
      aria-disabled={isOff || undefined}
      title={followed === null ? undefined : readOnlyWords(followed)}
      onPointerDown={e => {
        // It would come into focus, and the next Space, which plays and stops, would press it too.
        e.preventDefault()
        if (e.button === 0) begin.current()
      }}
      onPointerUp={() => end.current()}
      onPointerLeave={() => end.current()}
      onPointerCancel={() => end.current()}
      onKeyDown={e => pressed(e) && begin.current()}
      onKeyUp={() => end.current()}
      onContextMenu={e => e.preventDefault()}
    >
      <span className="ring">
        <Sign name="dark" />
        <svg viewBox="0 0 30 30" aria-hidden="true">
          <circle cx="15" cy="15" r="13.5" pathLength="1" />
        </svg>
      </span>
      <span className="words">
        {isOff ? (dark ? 'Blackout is on' : 'Blackout') : dark ? 'Restore' : 'Blackout'}{' '}
        <small>
          {looksOn ? 'at the laptop' : isOff ? 'at the other laptop' : dark ? 'press' : 'press and hold'}
        </small>
      </span>
    </button>
  )
}
