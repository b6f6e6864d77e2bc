// The shape of a line's light roll, from its place on the page.

import type { PlacedLine } from '../page.ts'
import type { Row } from '../rows.ts'
import type { RollRow, RollShape } from './request.ts'

/** Room around the rows for the bloom, px. */
export const PAD = 10

const rollRows = new WeakMap<readonly Row[], readonly RollRow[]>()

export function shapeOf({ line, rows, rowsHeight, open }: PlacedLine, barWidth: number): RollShape {
  let drawn = rollRows.get(rows)
  if (!drawn) {
    drawn = rows.map(row => ({ y: row.y, height: row.height, strands: row.part.strands }))
    rollRows.set(rows, drawn)
  }
  return {
    edges: line.edges,
    barWidth,
    rows: drawn,
    height: rowsHeight,
    pad: PAD,
    bloom: open ? 5 : 3,
    scale: Math.min(2, window.devicePixelRatio || 1),
  }
}
