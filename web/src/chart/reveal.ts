// Bringing a place into sight: keys ask for it, and the chart that is on the page does it.

let show: ((tick: number) => void) | null = null

/** Opens the line of a place and scrolls to it. */
export const reveal = (tick: number): void => show?.(tick)

/** Lends the chart on the page to the keys. Returns what takes it back. */
export function onReveal(how: (tick: number) => void): () => void {
  show = how
  return () => {
    if (show === how) show = null
  }
}
