// The last frame that came in, as it was sent to the lights.

import { decodeFrame, type Frame } from '@glowchart/shared/frame.ts'

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
