// Strobe: hard flashes whose length is counted in whole frames.

import { secondsAt, type TempoMap } from '../../time/tempo.ts'
import type { Ticks } from '../../time/units.ts'
import type { CompiledCue } from '../compiled.ts'
import { its, type Now } from '../now.ts'
import type { Layout } from './layout.ts'

/** Times nearer to each other than this share of a frame are one time, and shares of a cycle likewise. */
const SAME = 1e-6

/** Cycles shorter than two frames cannot be on and off in turn: they render their mean. `advance`: cycles a frame. */
export const tooFast = (advance: number): boolean => advance > 0.5 + SAME

/**
 * Cycle k of an element begins at T_k, when P = k + S·x. With j whole frames since the frame that T_k lies in, the
 * element is lit while j < n, n = round(D · frames in the cycle), at least 1 and at least one frame less than the
 * cycle has. So every flash of a steady tempo is equally long at any rate, and never beats against it.
 */
export function strobe(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now, tempo: TempoMap): void {
  const { spread, duty } = cue
  const x = layout.x[cue.direction]
  const begin = now[its.fromSeconds]!
  const length = now[its.toSeconds]! - begin
  const soon = now[its.end]! - SAME * now[its.frameCycles]!
  for (let i = 0; i < layout.count; i++) {
    if (i > 0 && spread === 0) {
      out[i] = out[0]!
      continue
    }
    const offset = spread * x[i]!
    const k = Math.ceil(soon - offset) - 1
    const begun = secondsOf(cue, tempo, k + offset)
    const cycle = (secondsOf(cue, tempo, k + offset + 1) - begun) / length
    const since = Math.ceil((begin - begun) / length - SAME)
    const longest = Math.max(1, Math.floor(cycle + SAME) - 1)
    const lit = Math.min(longest, Math.max(1, Math.floor(duty * cycle + 0.5 + SAME)))
    out[i] = since < lit ? 1 : 0
  }
}

/** Song seconds at a number of cycles since the cue's origin. */
function secondsOf(cue: CompiledCue, tempo: TempoMap, cycles: number): number {
  if (cue.period > 0) return secondsAt(tempo, (cue.origin + cycles * cue.period) as Ticks)
  return cue.originSeconds + cycles / cue.hz
}
