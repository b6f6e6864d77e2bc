// The page: every line with its place, its rows and its height, from which drawing, pointing and turning all follow.

import { barsInto, type Line, lineAt, tickInto } from './lines.ts'
import { type PartStrands, type Row, rowsOf } from './rows.ts'

export interface PlacedLine {
  readonly line: Line
  readonly open: boolean
  /** Top and height of the whole line on the page, px. */
  readonly top: number
  readonly height: number
  /** Height of the strip over its field that holds a pencil note, px. */
  readonly note: number
  /** Top of its field (bar numbers and looks), and the height of that head; the rows begin under it. */
  readonly fieldTop: number
  readonly head: number
  readonly rows: readonly Row[]
  readonly rowsHeight: number
}

export interface Page {
  readonly lines: readonly PlacedLine[]
  /** The same lines, in time. */
  readonly order: readonly Line[]
  /** Px a bar, the same on every line. */
  readonly barWidth: number
  /** Left edge of the fields, px. */
  readonly gutter: number
  readonly height: number
}

const OPEN_HEAD = 31
const FOLDED_HEAD = 15

export function pageOf(
  lines: readonly Line[],
  parts: readonly PartStrands[],
  isOpen: (line: Line) => boolean,
  { top: from, ...measure }: { barWidth: number; gutter: number; top: number },
  noteOver: (line: Line) => number = () => 0,
): Page {
  const opened = rowsOf(parts, true)
  const folded = rowsOf(parts, false)
  let top = from
  const placed = lines.map(line => {
    const open = isOpen(line)
    const { rows, height: rowsHeight } = open ? opened : folded
    const head = open ? OPEN_HEAD : FOLDED_HEAD
    const note = noteOver(line)
    const height = note + head + rowsHeight + (open ? 20 : 6)
    const at = {
      line,
      open,
      top,
      height,
      note,
      fieldTop: top + note + (open ? 6 : 2),
      head,
      rows,
      rowsHeight,
    }
    top += height
    return at
  })
  return { lines: placed, order: lines, height: top + 4, ...measure }
}

/** The page, or the one before it where both are equal: what is drawn from that can stay. So for each of its lines. */
export function keptPage(page: Page, before: Page | null): Page {
  if (!before) return page
  const lines = page.lines.map((line, i) => {
    const was = before.lines[i]
    return was && areEqual(line, was) ? was : line
  })
  const kept = {
    ...page,
    lines:
      lines.every((line, i) => line === before.lines[i]) && lines.length === before.lines.length
        ? before.lines
        : lines,
  }
  return areEqual(kept, before) ? before : kept
}

/** Equal in every field. */
const areEqual = <T extends object>(a: T, b: T): boolean =>
  (Object.keys(a) as (keyof T)[]).every(key => a[key] === b[key])

/** Bars a line that let the whole song stand folded in `height` px; the most there is when none does. */
export function barsToFit(
  linesAt: (bars: number) => number,
  parts: readonly PartStrands[],
  height: number,
): number {
  const { height: rows } = rowsOf(parts, false)
  const sizes = [4, 8, 16, 24, 32, 48, 64]
  return sizes.find(bars => linesAt(bars) * (rows + FOLDED_HEAD + 6) + 40 <= height) ?? 64
}

/** Where a tick stands on the page; null without lines. */
export function spotOf(page: Page, tick: number): { index: number; at: PlacedLine; x: number } | null {
  const index = lineAt(page.order, tick)
  const at = page.lines[index]
  if (!at) return null
  const bars = Math.min(at.line.bars, Math.max(0, barsInto(at.line, tick)))
  return { index, at, x: page.gutter + bars * page.barWidth }
}

/** The line at a height, and the tick at that place on it; null off the lines. */
export function tickAt(
  page: Page,
  x: number,
  y: number,
): { at: PlacedLine; tick: number; bars: number } | null {
  const at = page.lines.find(l => y >= l.top && y < l.top + l.height)
  if (!at) return null
  const bars = (x - page.gutter) / page.barWidth
  return { at, bars, tick: tickInto(at.line, bars) }
}
