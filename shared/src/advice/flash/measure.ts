// Measures a song for flashes and currents: renders every frame of it as the stage would show it, and feeds the meters.

import { PowerMeter } from '../../power/meter.ts'
import { compileSong } from '../../render/compile.ts'
import { frameFrom, frameSpan } from '../../render/frames.ts'
import { applyLimits } from '../../render/limits.ts'
import { freshLive } from '../../render/live.ts'
import { renderLight } from '../../render/render.ts'
import { renderScratch } from '../../render/scratch.ts'
import type { Rig } from '../../rig/schema.ts'
import type { Show } from '../../show/schema.ts'
import type { HeldSpan, MeasuredSong } from './measured.ts'
import { FlashMeter } from './meter.ts'
import { fluxOf, ScopeMixer, scopesOf } from './scopes.ts'

/** How far a measurement is: frames of one song. */
export interface MeasureProgress {
  readonly song: string
  readonly frames: number
  readonly of: number
}

/** Frames between two reports: some tens of milliseconds. */
const REPORT_EVERY = 200

/**
 * Measures a song as written, once through, at the show's frame rate, with all masters full. Yields now and then, so
 * that the caller can show progress or leave off.
 * @throws CodedError as `compileSong`
 */
export function* measureSong(
  rig: Rig,
  show: Show,
  kitId: string,
  song: string,
): Generator<MeasureProgress, MeasuredSong> {
  const { rate } = show.output
  const compiled = compileSong(rig, show, kitId, song)
  const { stage, timeline } = compiled
  const scopes = scopesOf(stage)
  const mixer = new ScopeMixer(stage, scopes, fluxOf(rig, stage))
  const power = new PowerMeter(rig, show.kits[kitId]!, timeline, compiled.power)
  const meter = new FlashMeter(scopes.length, rate)
  const scratch = renderScratch(compiled)
  const live = freshLive()
  const cells = new Float32Array(3 * stage.cells)
  const mixed = new Float32Array(3 * scopes.length)
  const held: HeldSpan[] = []
  const frames = frameFrom(compiled, timeline.length, rate)
  for (let n = 0; n < frames; n++) {
    const { from, to } = frameSpan(compiled, n, rate)
    renderLight(compiled, from, to, live, scratch, cells)
    if (scratch.held) hold(held, n, rate)
    applyLimits(compiled, live, cells)
    power.feed(cells, from)
    mixer.mix(cells, mixed)
    meter.feed(mixed)
    if (n % REPORT_EVERY === 0) yield { song, frames: n, of: frames }
  }
  return { show, song, kit: kitId, stage, timeline, rate, scopes, meter, held, peaks: power.peaks() }
}

/** One more frame in which the venue's limit holds a strobe: it goes on with the span less than a second ago, or begins one. */
function hold(spans: HeldSpan[], frame: number, rate: number): void {
  const last = spans.at(-1)
  if (last && frame <= last.to + rate) spans[spans.length - 1] = { from: last.from, to: frame }
  else spans.push({ from: frame, to: frame })
}
