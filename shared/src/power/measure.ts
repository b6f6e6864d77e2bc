// The currents of a song as it is sent: every frame rendered, the greatest of every box by bar.

import { compileSong } from '../render/compile.ts'
import { frameFrom, frameSpan } from '../render/frames.ts'
import { levelPlan, toLevels } from '../render/levels.ts'
import { applyLimits } from '../render/limits.ts'
import { freshLive } from '../render/live.ts'
import { renderLight } from '../render/render.ts'
import { renderScratch } from '../render/scratch.ts'
import type { Rig } from '../rig/schema.ts'
import type { Show } from '../show/schema.ts'
import { barBeatAt } from '../time/meter.ts'
import { ampsOfLevels, powerPlan } from './plan.ts'

/** The currents of one box over a song. */
export interface BoxPeak {
  readonly box: string
  /** The greatest, A, and the 0-based bar of the song in which it is first reached. */
  readonly amps: number
  readonly bar: number
  /** The greatest of every bar, A. */
  readonly bars: Float32Array
}

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
  const kit = show.kits[kitId]!
  const plan = levelPlan(rig, kit)
  const power = powerPlan(rig, kit, plan)
  const scratch = renderScratch(compiled)
  const live = freshLive()
  const light = new Float32Array(3 * stage.cells)
  const levels = new Uint8Array(512 * plan.universes.length)
  const amps = new Float64Array(power.boxes.length)
  const count = timeline.sections.reduce((sum, section) => sum + section.bars, 0)
  const bars = power.boxes.map(() => new Float32Array(count))
  const frames = frameFrom(compiled, timeline.length, rate)
  for (let n = 0; n < frames; n++) {
    const { from, to } = frameSpan(compiled, n, rate)
    renderLight(compiled, from, to, live, scratch, light)
    applyLimits(compiled, live, light)
    toLevels(plan, light, levels)
    ampsOfLevels(plan, power, levels, amps)
    const bar = Math.min(count - 1, barBeatAt(timeline.meters, from).bar)
    for (let b = 0; b < amps.length; b++) if (amps[b]! > bars[b]![bar]!) bars[b]![bar] = amps[b]!
    if (n % REPORT_EVERY === 0) yield { song, frames: n, of: frames }
  }
  return power.boxes.map((box, b) => {
    const most = bars[b]!.reduce((max, value) => Math.max(max, value), 0)
    return { box, amps: most, bar: Math.max(0, bars[b]!.indexOf(most)), bars: bars[b]! }
  })
}
