// Where a section's pencil note stands: in the rest of its last line, or on a strip of its own over its first.

import type { Line } from './lines.ts'

interface Measure {
  /** Px a bar, and from the fields' left edge to the page's right one. */
  readonly barWidth: number
  readonly room: number
}

/** Less than this beside a line, px, holds no note. */
const LEAST = 190
const GAP = 22
const LINE = 17
const CHARACTER = 6.9
const MOST_LINES = 3
/** The least height that is easily hit (W3C WCAG 2.2 SC 2.5.8), and what the names of looks need under the strip. */
const TARGET = 24
export const UNDER = 5

/** How wide the rest beside a line is that a note may stand in, px; null where there is too little. */
export function restBeside(line: Line, { barWidth, room }: Measure): number | null {
  const rest = room - line.bars * barWidth - GAP - 8
  return rest >= LEAST ? Math.min(340, rest) : null
}

/**
 * Height of the strip over a line, px: 0 for a note that has its place in the rest.
 * @param note what is written, or is about to be (empty then); null: nothing
 */
export function stripOver(line: Line, note: string | null, lastBars: number, measure: Measure): number {
  if (!line.first || note === null) return 0
  if (restBeside({ ...line, bars: lastBars }, measure) !== null) return 0
  const width = Math.max(1, Math.min(measure.room - 12, Math.max(line.bars * measure.barWidth, LEAST)))
  const lines = Math.max(1, Math.ceil((note.length * CHARACTER) / width))
  return Math.max(TARGET, LINE * Math.min(MOST_LINES, lines) + 2) + UNDER
}
