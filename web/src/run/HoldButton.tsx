// A button of the run page: it acts at once while the guard is lifted, and must be held while it is on.

import type { ReactNode } from 'react'
import { useEffect } from 'react'
import { useLooksOn } from '../access/looking-on.ts'
import { useHold } from './hold.ts'
import { onRunKey } from './keys.ts'

interface Props {
  className?: string
  /** The key that does the same. */
  hotkey?: string
  label?: string
  pressed?: boolean
  /** Why it does nothing now. */
  idle?: boolean
  guarded?: boolean
  fire: () => (() => void) | undefined
  children: ReactNode
}

export function HoldButton({
  className = '',
  hotkey,
  label,
  pressed,
  idle,
  guarded = true,
  fire,
  children,
}: Props) {
  // What is not guarded is the page's own business: dimming it, seeing more.
  const isOff = useLooksOn() && guarded
  const hold = useHold(fire, guarded)
  const holding = hold.holding && !isOff
  const { up } = hold
  const down = isOff ? nothing : hold.down
  useEffect(() => (hotkey === undefined ? undefined : onRunKey(hotkey, { down, up })), [hotkey, down, up])
  return (
    <button
      type="button"
      className={`hand ${className}${holding ? ' holding' : ''}`}
      aria-label={label}
      aria-pressed={pressed}
      aria-disabled={idle || isOff}
      onPointerDown={event => {
        // It would come into focus, and have the next Space for itself, which a pedal may type.
        event.preventDefault()
        if (event.button === 0) down()
      }}
      onPointerUp={up}
      onPointerLeave={up}
      onPointerCancel={up}
      onKeyDown={event => {
        if (event.key !== ' ' && event.key !== 'Enter') return
        event.preventDefault()
        if (!event.repeat) down()
      }}
      onKeyUp={up}
      onBlur={up}
      onContextMenu={event => event.preventDefault()}
    >
      {children}
    </button>
  )
}

const nothing = () => {}
