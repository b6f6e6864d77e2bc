// A press that must be held while the guard is on: for a button, and for the key that does the same.

import { useEffect, useMemo, useRef, useState } from 'react'
import { GUARD_HOLD, usedGuard, useGuard } from './guard.ts'

export interface Hold {
  readonly holding: boolean
  down(): void
  up(): void
}

/**
 * @param fire does it; returns what letting go does, if anything
 * @param guarded false: always at once
 */
export function useHold(fire: () => (() => void) | undefined, guarded = true): Hold {
  const [holding, setHolding] = useState(false)
  const latest = useRef(fire)
  latest.current = fire
  const hand = useMemo(() => {
    let timer: ReturnType<typeof setTimeout> | undefined
    let letGo: (() => void) | undefined
    let isDown = false
    const now = () => {
      setHolding(false)
      usedGuard()
      letGo = latest.current()
    }
    return {
      down() {
        if (isDown) return
        isDown = true
        if (!guarded || !useGuard.getState().on) return now()
        setHolding(true)
        timer = setTimeout(now, GUARD_HOLD)
      },
      up() {
        if (!isDown) return
        isDown = false
        clearTimeout(timer)
        setHolding(false)
        letGo?.()
        letGo = undefined
      },
    }
  }, [guarded])
  useEffect(() => () => hand.up(), [hand])
  return { holding, ...hand }
}
