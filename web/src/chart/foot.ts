// What the chart says at its foot, beside where one works: what a key did, or why it did nothing.

import { create } from 'zustand'
import { say, useSession } from '../document/session.ts'

export const useFoot = create<{ readonly note: string }>(() => ({ note: '' }))

/** Says something at the chart's foot, and to assistive technology, until the next press. */
export function tell(note: string): void {
  useFoot.setState({ note })
  say(note)
}

/** Forgets what was said, refusals too. */
export function clearFoot(): void {
  if (useFoot.getState().note) useFoot.setState({ note: '' })
  if (useSession.getState().problem) useSession.setState({ problem: null })
}
