// What the pointer does to the recording on the chart, and what it has moved so far and not let go of.

import { create } from 'zustand'

interface Held {
  /** `move`: all of it against the bars; `fit`: a bar line is pulled to a place in it. */
  readonly mode: 'off' | 'move' | 'fit'
  /** Seconds that a drag has moved the recording later. */
  readonly by: number
}

export const useHeld = create<Held>(() => ({ mode: 'off', by: 0 }))

export const takeHold = (mode: Held['mode']): void => useHeld.setState({ mode, by: 0 })
