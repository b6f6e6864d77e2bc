// The currents of a song as it is sent: every frame rendered and metered.

import { compileSong } from '../render/compile.ts'
import { frameFrom, frameSpan } from '../render/frames.ts'
import { applyLimits } from '../render/limits.ts'
import { freshLive } from '../render/live.ts'
import { renderLight } from '../render/render.ts'
import { renderScratch } from '../render/scratch.ts'
import type { Rig } from '../rig/schema.ts'
import type { Show } from '../show/schema.ts'
import { type BoxPeak, PowerMeter } from './meter.ts'

/** How far a measurement is: frames of one song. */
export interface PowerProgress {
  readonly song: string
  readonly frames: number
  readonly of: number
}

const REPORT_EVERY = 200

/**
 * Measures a song as written, once through, all masters full, armed limits in place, by the levels that would be
 * sent. Yields now and then, so that the caller can show progress or leave off.
 * @throws CodedError as `compileSong`
 */
export function* measurePower(
  rig: Rig,
  show: Show,
  kitId: string,
  song: string,
): Generator<PowerProgress, BoxPeak[]> {
  const { rate } = show.output
  const compiled = compileSong(rig, show, kitId, song)
  const { stage, timeline } = compiled
  const meter = new PowerMeter(rig, show.kits[kitId]!, timeline, compiled.power)
  const scratch = renderScratch(compiled)
  const live = freshLive()
  const light = new Float32Array(3 * stage.cells)
  const frames = frameFrom(compiled, timeline.length, rate)
  for (let n = 0; n < frames; n++) {
    const { from, to } = frameSpan(compiled, n, rate)
    renderLight(compiled, from, to, live, scratch, light)
    applyLimits(compiled, live, light)
    meter.feed(light, from)
    if (n % REPORT_EVERY === 0) yield { song, frames: n, of: frames }
  }
  return meter.peaks()
}
