// Bringing a place into sight: keys ask for it, and the chart that is on the page does it.

type Reveal = (tick: number, opens: boolean) => void

let show: Reveal | null = null

/** Opens the line of a place (unless told not to) and scrolls to it. */
export const reveal = (tick: number, opens = true): void => show?.(tick, opens)

/** Lends the chart on the page to the keys. Returns what takes it back. */
export function onReveal(how: Reveal): () => void {
  show = how
  return () => {
    if (show === how) show = null
  }
}
