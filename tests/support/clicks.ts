// How far a click is from the light of its beat: onsets heard in a page against the engine's frames.

import { secondsAt, type TempoMap } from '@glowchart/shared/time/tempo.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'

interface Seen {
  readonly position: number
  readonly due: number
  readonly playing: boolean
}

export interface Offsets {
  /** Click minus the moment at which the engine is on the beat, between two frames, ms. */
  readonly beat: number[]
  /** Click minus the due time of the frame that shows the beat, ms: the frame stands for its whole interval. */
  readonly frame: number[]
  /** Beats that no click was heard on (within 60 ms). */
  readonly missed: number
}

/** @param beats ticks of every click expected; @param onsets page times at which sound began, ms */
export function clicksAgainstFrames(
  beats: readonly Ticks[],
  onsets: readonly number[],
  frames: readonly Seen[],
  tempo: TempoMap,
): Offsets {
  const beat: number[] = []
  const frame: number[] = []
  let missed = 0
  for (const tick of beats) {
    const i = frames.findIndex(
      (f, n) =>
        f.playing && f.position <= tick && (frames[n + 1]?.position ?? Number.NEGATIVE_INFINITY) > tick,
    )
    if (i < 0) continue
    const [before, after] = [frames[i]!, frames[i + 1]!]
    const [from, to, at] = [before.position, after.position, tick].map(p => secondsAt(tempo, ticks(p)))
    const time = before.due + ((after.due - before.due) * (at! - from!)) / (to! - from!)
    const nearest = onsets.reduce(
      (best, onset) => (Math.abs(onset - time) < Math.abs(best - time) ? onset : best),
      Number.POSITIVE_INFINITY,
    )
    if (Math.abs(nearest - time) > 60) missed++
    else {
      beat.push(nearest - time)
      frame.push(nearest - before.due)
    }
  }
  return { beat, frame, missed }
}
