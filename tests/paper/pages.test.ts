// Blocks laid on pages: nothing is cut but tables, between rows; heads stay with what they head; no page is empty.

import { type Measured, pagesOf } from '@glowchart/web/paper/pages.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

const whole = (height: number, more: { breakBefore?: boolean; withNext?: boolean } = {}): Measured => ({
  kind: 'whole',
  height,
  ...more,
})
const table = (head: number, rows: number[], heads: boolean[] = []): Measured => ({
  kind: 'table',
  head,
  rows,
  heads,
})

describe('pages', () => {
  it('turn before a block that has no room', () => {
    expect(pagesOf([whole(60), whole(50)], 100).map(page => page.map(p => p.block))).toEqual([[0], [1]])
  })

  it('break a table between rows, with room for its head on every page', () => {
    expect(pagesOf([table(10, [30, 30, 30, 30, 30])], 100)).toEqual([
      [{ block: 0, from: 0, to: 3 }],
      [{ block: 0, from: 3, to: 5 }],
    ])
  })

  it('never leave a heading as the last row of a page', () => {
    const pages = pagesOf([table(10, [30, 30, 30, 30], [false, false, true, false])], 100)
    expect(pages.map(page => [page[0]!.from, page[0]!.to])).toEqual([
      [0, 2],
      [2, 4],
    ])
  })

  it('begin anew where a block asks for it, and not with an empty page', () => {
    const pages = pagesOf([whole(10, { breakBefore: true }), whole(10, { breakBefore: true })], 100)
    expect(pages.map(page => page.length)).toEqual([1, 1])
  })

  it('keep a block on the page of the one it belongs to', () => {
    expect(pagesOf([whole(70), whole(20, { withNext: true }), whole(30)], 100)).toHaveLength(2)
    expect(pagesOf([whole(70), whole(20, { withNext: true }), whole(30)], 100)[0]).toHaveLength(1)
  })

  it('are none without blocks', () => {
    expect(pagesOf([], 100)).toEqual([])
  })

  it('hold every block and row once, in order, and none is empty or too full', () => {
    const height = fc.integer({ min: 1, max: 60 })
    const block = fc.oneof(
      fc.record({
        kind: fc.constant('whole' as const),
        height,
        breakBefore: fc.boolean(),
        withNext: fc.boolean(),
      }),
      fc.record({
        kind: fc.constant('table' as const),
        head: fc.integer({ min: 0, max: 30 }),
        rows: fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 12 }),
        heads: fc.array(fc.boolean(), { maxLength: 12 }),
      }),
    )
    fc.assert(
      fc.property(fc.array(block, { maxLength: 12 }), blocks => {
        const pages = pagesOf(blocks, 100)
        const seen = pages
          .flat()
          .flatMap(p => Array.from({ length: p.to - p.from }, (_, i) => [p.block, p.from + i]))
        const all = blocks.flatMap((b, i) =>
          b.kind === 'whole' ? [[i, 0]] : b.rows.map((_, row) => [i, row]),
        )
        expect(seen).toEqual(all)
        for (const page of pages) {
          expect(page.length).toBeGreaterThan(0)
          const used = page.reduce((sum, { block: i, from, to }) => {
            const b = blocks[i]!
            return (
              sum +
              (b.kind === 'whole' ? b.height : b.head + b.rows.slice(from, to).reduce((a, c) => a + c, 0))
            )
          }, 0)
          expect(used).toBeLessThanOrEqual(100)
        }
      }),
    )
  })
})
