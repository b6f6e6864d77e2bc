// How far a cue's motion is: cycles since its origin, from the position alone.

import type { CompiledCue } from './compiled.ts'

/** Cycles since the cue's origin, at a position given in ticks and in seconds of the song. */
export function cyclesAt(cue: CompiledCue, ticks: number, seconds: number): number {
  return cue.period > 0 ? (ticks - cue.origin) / cue.period : (seconds - cue.originSeconds) * cue.hz
}
