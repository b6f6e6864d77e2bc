// The guard of the run page: while it is on, a touch or a key must be held to do anything.

import { create } from 'zustand'

/** A hold that does what is pressed though the guard is on, ms. */
export const GUARD_HOLD = 900
/** Lifted, it falls back so long after the last press, ms. */
const FALLS_BACK = 20_000

export const useGuard = create<{ on: boolean }>(() => ({ on: true }))

let falling: ReturnType<typeof setTimeout> | undefined

export function liftGuard(): void {
  clearTimeout(falling)
  falling = setTimeout(putOnGuard, FALLS_BACK)
  useGuard.setState({ on: false })
}

export function putOnGuard(): void {
  clearTimeout(falling)
  useGuard.setState({ on: true })
}

/** Something was done while it is lifted: it stays so a while longer. */
export function usedGuard(): void {
  if (!useGuard.getState().on) liftGuard()
}
