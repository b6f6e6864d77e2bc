// Where a box's sockets are drawn on it: rows of at most eight, read like a page; none where there is no room.

import type { Box } from '@glowchart/shared/rig/schema.ts'

/** From one socket to the next, px; large enough to be pointed at. */
const PITCH = 24
const AROUND = 5
/** A box without its sockets, px. */
const COMPACT = 30

/** Size of a box on the plan, px (`compact`: without its sockets), and the middle of each socket from the box's own middle. */
export function socketGrid(
  { sockets }: Box,
  compact: boolean,
): {
  width: number
  height: number
  at: { x: number; y: number }[]
} {
  if (compact) return { width: COMPACT, height: COMPACT, at: sockets.map(() => ({ x: 0, y: 0 })) }
  const count = sockets.length
  const columns = count <= 3 ? count : Math.min(8, Math.ceil(count / Math.ceil(count / 8 + 0.01)))
  const rows = Math.ceil(count / columns)
  const at = sockets.map((_, i) => ({
    x: ((i % columns) - (columns - 1) / 2) * PITCH,
    y: (Math.floor(i / columns) - (rows - 1) / 2) * PITCH,
  }))
  return { width: columns * PITCH + 2 * AROUND, height: rows * PITCH + 2 * AROUND, at }
}
