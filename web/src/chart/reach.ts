// Going by key to where a value is set: the fades and level points on the chart, the groups of the cue column.

import { tell } from './foot.ts'
import { reveal } from './reveal.ts'

/** Puts the focus on what is marked `data-reach`, once the line it stands on is open. */
export function reach(what: string, at: number | null, otherwise: string): void {
  if (at !== null) reveal(at)
  const focus = () => {
    const found = document.querySelector<HTMLElement>(`[data-reach="${what}"]`)
    found?.focus({ preventScroll: at !== null })
    return found !== null
  }
  // What a line that has been opened shows comes with the next draw of the page.
  if (!focus()) requestAnimationFrame(() => focus() || tell(otherwise))
}

/** Gives the keys back to the chart. True when something else had them. */
export function leave(): boolean {
  const focused = document.activeElement
  if (!(focused instanceof HTMLElement) || focused === document.body) return false
  const isAway = focused.closest('[data-reach], .level-point, .cue-panel') !== null
  if (isAway) focused.blur()
  return isAway
}
