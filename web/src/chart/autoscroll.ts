// Scrolling by itself while something is dragged near the upper or lower edge of the chart.

/** Px from an edge in which the page begins to move, and px a frame at the edge itself. */
const ZONE = 34
const FASTEST = 14

/** Px a frame for a pointer at a height of the scroller. */
export function driftAt(y: number, height: number): number {
  const above = ZONE - y
  const below = y - (height - ZONE)
  if (above > 0) return -Math.ceil((Math.min(above, ZONE) / ZONE) * FASTEST)
  if (below > 0) return Math.ceil((Math.min(below, ZONE) / ZONE) * FASTEST)
  return 0
}

/**
 * Moves the scroller while the pointer is near an edge.
 * @param height the pointer's, px on the window; asked at every frame
 * @param moved called after each step, as what lies under the pointer is another place then
 */
export function autoscroll(scroller: HTMLElement, height: () => number, moved: () => void): () => void {
  let frame = requestAnimationFrame(function step() {
    frame = requestAnimationFrame(step)
    const box = scroller.getBoundingClientRect()
    const by = driftAt(height() - box.top, box.height)
    const before = scroller.scrollTop
    if (by === 0) return
    scroller.scrollTop = before + by
    if (scroller.scrollTop !== before) moved()
  })
  return () => cancelAnimationFrame(frame)
}
