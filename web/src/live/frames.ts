// The last frame that came in, as it was sent to the lights.

import { decodeFrame, type Frame } from '@glowchart/shared/frame.ts'
import type { LevelPlan } from '@glowchart/shared/render/levels.ts'

let latest: Frame | null = null
let arrived = Number.NEGATIVE_INFINITY

/** Takes a binary message; null when it is not a frame. @param at page time in ms */
export function takeFrame(bytes: Uint8Array, at: number): Frame | null {
  const frame = decodeFrame(bytes)
  if (!frame) return null
  latest = frame
  arrived = at
  return frame
}

export const latestFrame = (): Frame | null => latest

/** Ms since a frame came in; infinite when none has. */
export const framesSilent = (now: number): number => now - arrived

/** A frame's levels in the plan's order of universes; one that the frame has not is dark. */
export function levelsFor(plan: LevelPlan, { universes, levels }: Frame): Uint8Array {
  if (universes.length === plan.universes.length && universes.every((u, i) => u === plan.universes[i]))
    return levels
  const ordered = new Uint8Array(plan.universes.length * 512)
  for (const [i, universe] of plan.universes.entries()) {
    const at = universes.indexOf(universe)
    if (at >= 0) ordered.set(levels.subarray(at * 512, at * 512 + 512), i * 512)
  }
  return ordered
}
