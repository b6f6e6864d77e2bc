// Diffs: what they find, how they go back, and what they refuse.

import { applyDiff, diffOf, reverseOf, sameValue } from '@glowchart/shared/show/diff.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

/** Documents with the ids that JavaScript objects have by birth among their keys. */
const id = fc.constantFrom('a', 'b', 'constructor', 'toString', 'hasOwnProperty')
const { document } = fc.letrec(tie => ({
  document: fc.dictionary(id, tie('value'), { maxKeys: 4, noNullPrototype: true }),
  value: fc.oneof(
    { maxDepth: 3 },
    fc.integer(),
    fc.constantFrom('x', null, true),
    fc.array(fc.integer(), { maxLength: 3 }),
    tie('document'),
  ),
}))

describe('a diff', () => {
  it('takes one document to the other, and its reverse takes it back', () => {
    fc.assert(
      fc.property(document, document, (before, after) => {
        const diff = diffOf(before, after)
        expect(applyDiff(before, diff)).toEqual(after)
        expect(applyDiff(after, reverseOf(diff))).toEqual(before)
        expect(diff.length === 0).toBe(sameValue(before, after))
      }),
      { numRuns: 2000 },
    )
  })

  it('names only what differs, by path', () => {
    const before = { songs: { s: { title: 'One', bpm: 90 } }, order: ['s'] }
    const after = { songs: { s: { title: 'Two', bpm: 90 } }, order: ['s'] }
    expect(diffOf(before, after)).toEqual([{ path: ['songs', 's', 'title'], before: 'One', after: 'Two' }])
  })

  it('is refused where something has changed since, naming the place', () => {
    const diff = diffOf({ a: { x: 1 } }, { a: { x: 2 } })
    expect(() => applyDiff({ a: { x: 3 } }, diff)).toThrow(/a\.x has changed/)
    expect(() => applyDiff({}, diff)).toThrow(/has changed/)
  })
})
