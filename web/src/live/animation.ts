// The one animation loop of the page: whoever draws while time passes takes part in it, and it rests when nobody does.

type Draw = (now: number) => void

const drawers = new Set<Draw>()
let running = 0

function step(now: number): void {
  running = requestAnimationFrame(step)
  for (const draw of drawers) draw(now)
}

/** Calls `draw` before every repaint with the page time in ms. Returns what ends it. */
export function everyRepaint(draw: Draw): () => void {
  drawers.add(draw)
  if (drawers.size === 1) running = requestAnimationFrame(step)
  return () => {
    drawers.delete(draw)
    if (drawers.size === 0) cancelAnimationFrame(running)
  }
}
