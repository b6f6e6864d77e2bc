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
  const starts = (line: Line) => cues.filter(c => c.at >= lineStart(line) && c.at < lineEnd(line)).length
  const fullest = lines.map(line => ({ line, cues: starts(line) })).sort((a, b) => b.cues - a.cues)
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
