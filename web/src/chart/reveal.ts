// Bringing a place into sight, and opening or folding its line: keys ask for it, and the chart on the page does it.

interface Shown {
  show(tick: number, opens: boolean): void
  turn(tick: number): void
}

let shown: Shown | null = null

/** Opens the line of a place (unless told not to) and scrolls to it. */
export const reveal = (tick: number, opens = true): void => shown?.show(tick, opens)
/** Opens the line of a place, or folds it. */
export const turn = (tick: number): void => shown?.turn(tick)

/** Lends the chart on the page to the keys. Returns what takes it back. */
export function onReveal(chart: Shown): () => void {
  shown = chart
  return () => {
    if (shown === chart) shown = null
  }
}
