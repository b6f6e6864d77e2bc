// Sway: a crest that swings to and fro over the part, slow at the turns.

import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import type { Layout } from './layout.ts'
import { windowAt } from './window.ts'

const swing = (phase: number): number => 0.5 - 0.5 * Math.cos(2 * Math.PI * phase)

/**
 * The crest is at y = ½ − ½cos(2πP): at the part's start on the cue's origin, at its end half a cycle later. m is a
 * window of width D (as a share of the part) around y, edges by shape. With S > 1 the part falls into ⌈S⌉ stretches of
 * 1/S, each with a crest of its own; with S < 1 the crest is as much wider, at 0 all swell together.
 */
export function sway(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now): void {
  const { spread, duty, shape } = cue
  const x = layout.x[cue.direction]
  const phase = now[its.phase]!
  const advance = now[its.advance]!
  const from = swing(phase)
  const to = swing(phase + advance)
  const low = advance >= 0.5 ? 0 : Math.min(from, to)
  const high = advance >= 0.5 ? 1 : Math.max(from, to)
  const last = Math.max(0, Math.ceil(spread) - 1)
  for (let i = 0; i < layout.count; i++) {
    const along = spread * x[i]!
    const place = along - Math.min(last, Math.floor(along))
    const distance = place < low ? low - place : place > high ? place - high : 0
    out[i] = windowAt(distance, duty, shape)
  }
}
