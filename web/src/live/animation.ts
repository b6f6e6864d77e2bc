// The one animation loop of the page: whoever draws while time passes takes part in it. It rests while nothing can look
// different: sixty repaints a second of a stage that stands still cost a laptop's battery.

import { positionMoves } from './playhead.ts'

type Draw = (now: number) => void

/** Those that move by themselves, and those that show what the engine tells. */
const moving = new Set<Draw>()
const showing = new Set<Draw>()
let running = 0

function step(now: number): void {
  running = 0
  for (const draw of moving) draw(now)
  for (const draw of showing) draw(now)
  if (moving.size > 0 || (showing.size > 0 && positionMoves())) repaint()
}

/** The engine has told something: what shows it is drawn before the next repaint. */
export function repaint(): void {
  if (running === 0 && moving.size + showing.size > 0) running = requestAnimationFrame(step)
}

/** Calls `draw` before every repaint with the page time in ms. Returns what ends it. */
export const everyRepaint = (draw: Draw): (() => void) => takePart(moving, draw)

/**
 * The same for what shows position, status and frames as the engine tells them, and nothing else: before every repaint
 * while the song moves, else once at first and whenever something is told.
 */
export const everyTold = (draw: Draw): (() => void) => takePart(showing, draw)

function takePart(drawers: Set<Draw>, draw: Draw): () => void {
  drawers.add(draw)
  repaint()
  return () => {
    drawers.delete(draw)
    if (moving.size + showing.size > 0) return
    cancelAnimationFrame(running)
    running = 0
  }
}
