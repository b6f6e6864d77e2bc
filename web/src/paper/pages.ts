// Lays measured blocks on pages: whole blocks are not cut, tables break between rows and take their head along.

/** Heights, px. */
export type Measured =
  | { kind: 'whole'; height: number; breakBefore?: boolean; withNext?: boolean }
  | {
      kind: 'table'
      head: number
      rows: readonly number[]
      heads?: readonly boolean[]
      breakBefore?: boolean
    }

/** A block, or rows [from, to) of one, by its index. */
export interface Piece {
  readonly block: number
  readonly from: number
  readonly to: number
}

/**
 * Pages of pieces, none taller than `height` but where a single block or row is. No page is empty; no blocks: no pages.
 */
export function pagesOf(blocks: readonly Measured[], height: number): Piece[][] {
  const pages: Piece[][] = []
  let page: Piece[] = []
  let left = height
  const turn = (): void => {
    if (page.length === 0) return
    pages.push(page)
    page = []
    left = height
  }
  for (const [i, block] of blocks.entries()) {
    if (block.breakBefore) turn()
    if (block.kind === 'whole') {
      if (block.height + (block.withNext ? leastOf(blocks[i + 1]) : 0) > left) turn()
      page.push({ block: i, from: 0, to: 1 })
      left -= block.height
      continue
    }
    let from = 0
    while (from < block.rows.length) {
      if (block.head + togetherAt(block, from) > left) turn()
      let to = from
      let used = block.head
      while (to < block.rows.length && (to === from || used + togetherAt(block, to) <= left)) {
        used += block.rows[to]!
        to++
      }
      page.push({ block: i, from, to })
      left -= used
      from = to
      if (from < block.rows.length) turn()
    }
  }
  turn()
  return pages
}

/** Height of a row, and of the one it stays with. */
function togetherAt(block: Extract<Measured, { kind: 'table' }>, row: number): number {
  const height = block.rows[row] ?? 0
  return block.heads?.[row] ? height + (block.rows[row + 1] ?? 0) : height
}

/** The least of a block that can stand on a page. */
function leastOf(block: Measured | undefined): number {
  if (!block || block.breakBefore) return 0
  return block.kind === 'whole' ? block.height : block.head + togetherAt(block, 0)
}
