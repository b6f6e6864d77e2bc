// Which lines stand open when a song comes onto the page: the fullest, and more of them while the page has room.

import { type Line, lineEnd, lineStart } from './lines.ts'
import { pageOf } from './page.ts'
import type { PartStrands } from './rows.ts'

/**
 * Keys of the lines to open.
 * @param all every line, as when few bars make a line and one works closely
 * @param height of the page in sight, px
 */
export function openAtFirst(
  lines: readonly Line[],
  cues: readonly { at: number }[],
  parts: readonly PartStrands[],
  all: boolean,
  height: number,
): ReadonlySet<string> {
  if (all) return new Set(lines.map(l => l.key))
  const starts = cues.map(cue => cue.at).sort((a, b) => a - b)
  const before = (tick: number) => countBefore(starts, tick)
  const fullest = lines
    .map(line => ({ line, cues: before(lineEnd(line)) - before(lineStart(line)) }))
    .sort((a, b) => b.cues - a.cues)
  const open = new Set<string>()
  for (const { line } of fullest) {
    open.add(line.key)
    const page = pageOf(lines, parts, l => open.has(l.key), { barWidth: 1, gutter: 0, top: 9 })
    if (page.height <= height || open.size === 1) continue
    open.delete(line.key)
    break
  }
  return open
}

/** How many of the numbers, which are in order, lie before `edge`. */
function countBefore(numbers: readonly number[], edge: number): number {
  let first = 0
  let end = numbers.length
  while (first < end) {
    const middle = (first + end) >> 1
    if (numbers[middle]! < edge) first = middle + 1
    else end = middle
  }
  return first
}
