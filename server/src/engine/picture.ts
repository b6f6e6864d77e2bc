// One frame's picture: a span of a piece and the hands on it in, levels out. Equal inputs give equal bytes anywhere.

import { toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import type { House, Live } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch, type Scratch } from '@glowchart/shared/render/scratch.ts'
import type { Ticks } from '@glowchart/shared/time/units.ts'
import type { Piece } from './player.ts'

/** Working memory for one piece. */
export interface Canvas {
  readonly piece: Piece
  readonly scratch: Scratch
  readonly light: Float32Array
  /** 512 bytes a universe, in the order of the plan's universes. */
  readonly levels: Uint8Array
}

/** @param before its memory is used again where it fits */
export function canvasFor(piece: Piece, before: Canvas | null): Canvas {
  const cells = piece.compiled.stage.cells * 3
  const bytes = piece.plan.universes.length * 512
  // A slot that nothing stands on any more would keep its last level for the rest of the night.
  const levels = before?.levels.length === bytes ? before.levels.fill(0) : new Uint8Array(bytes)
  return {
    piece,
    scratch: renderScratch(piece.compiled),
    light: before?.light.length === cells ? before.light : new Float32Array(cells),
    levels,
  }
}

/**
 * Draws into the canvas's levels. @param from start of the written span that the frame stands for, ticks; `to`: its end
 * @param pace seconds of the song that pass in one on the wall
 */
export function drawPicture(
  { piece, scratch, light, levels }: Canvas,
  from: Ticks,
  to: Ticks,
  live: Live,
  house: House,
  pace: number,
): void {
  const { compiled, plan } = piece
  renderLight(compiled, from, to, live, scratch, light, Number.isFinite(compiled.venue.flashes) ? pace : 1)
  applyLimits(compiled, live, light, house)
  toLevels(plan, light, levels)
}
