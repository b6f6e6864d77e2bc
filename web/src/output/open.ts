// The output beside the chart: closed, the keyboard goes back to what opens it.

import { useSession } from '../document/session.ts'

/** False when it was not open. */
export function closeOutput(): boolean {
  if (!useSession.getState().choosesOutput) return false
  const hadFocus = document.querySelector('.output-side')?.contains(document.activeElement)
  useSession.setState({ choosesOutput: false })
  if (hadFocus) document.querySelector<HTMLElement>('.transport [aria-controls="output"]')?.focus()
  return true
}
