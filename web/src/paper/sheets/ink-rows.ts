// The rows of a line on paper: one a part, as high as its lights need to be told apart in ink.

import type { PartStrands, Strand } from '../../chart/rows.ts'

export interface InkRow {
  readonly part: string
  readonly name: string
  readonly y: number
  readonly height: number
  readonly strands: readonly Strand[]
}

const GAP = 2
/** Least height of a strand, and of a row, px. */
const STRAND = 3.6
const ROW = 8
/** More strands than this are drawn closer. */
const MANY = 12

export function inkRowsOf(parts: readonly PartStrands[]): { rows: InkRow[]; height: number } {
  let y = 0
  const rows = parts
    .filter(part => part.strands.length > 0)
    .map(({ part, name, strands }) => {
      const height = Math.max(ROW, STRAND * Math.min(MANY, strands.length))
      const row = { part, name, y, height, strands }
      y += height + GAP
      return row
    })
  return { rows, height: Math.max(8, y - GAP) }
}
