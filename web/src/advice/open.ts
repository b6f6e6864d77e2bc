// Opens the chart of a song with all advice on it at the side, and closes that list.

import { useSession } from '../document/session.ts'
import { useShownAdvice } from './marks.ts'
import { forgetApplied } from './Remedies.tsx'

export function openAdvice(song: string): void {
  useSession.setState({ song, showsAdvice: true })
  location.hash = 'chart'
}

/** The keyboard goes back to what opens the list, if it was in it. False when not all advice was shown. */
export function closeAdvice(): boolean {
  const { showsAdvice } = useSession.getState()
  const hadFocus = document.getElementById('advice')?.contains(document.activeElement)
  useSession.setState({ showsAdvice: false })
  useShownAdvice.setState({ key: null })
  forgetApplied()
  if (hadFocus) document.querySelector<HTMLElement>('[aria-controls="advice"]')?.focus()
  return showsAdvice
}
