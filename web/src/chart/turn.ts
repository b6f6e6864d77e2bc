// Turning the page: by whole lines, one bar early, and never while the line that is needed can be seen.

import type { Page } from './page.ts'

/** The line that must be seen at this place: the next one from the last bar of a line on. */
export function lineNeeded(page: Page, index: number, barsIntoLine: number): number {
  const line = page.lines[index]?.line
  const early = line && line.bars - barsIntoLine <= 1 && index + 1 < page.lines.length
  return early ? index + 1 : index
}

/**
 * Where to scroll so that a line can be seen, with the line that sounds above it if both fit; null when it can be
 * seen already.
 * @param seen the part of the page in sight, px
 */
export function turnTo(
  page: Page,
  sounding: number,
  needed: number,
  seen: { top: number; height: number },
): number | null {
  const want = page.lines[needed]
  const now = page.lines[sounding]
  if (!want || !now) return null
  const foot = want.top + want.height
  if (want.top >= seen.top && foot <= seen.top + seen.height) return null
  const top = foot - now.top <= seen.height ? Math.min(now.top, want.top) : want.top
  // Room for the nib over the line.
  return Math.max(0, top - 14)
}
