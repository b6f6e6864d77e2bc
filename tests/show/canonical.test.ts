// Canonical text: equal documents give equal bytes, and what is written reads back the same.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import fc from 'fast-check'
import { expect, it } from 'vitest'

/** The same value with the keys of every object in another order. */
function turned(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turned)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .toReversed()
      .map(([key, item]) => [key, turned(item)]),
  )
}

it('reads back as the same value, and is the same whatever the order of keys', () => {
  fc.assert(
    fc.property(fc.jsonValue(), value => {
      const text = canonicalText(value)
      expect(sameValue(JSON.parse(text), JSON.parse(JSON.stringify(value)))).toBe(true)
      expect(canonicalText(turned(value))).toBe(text)
      expect(canonicalText(JSON.parse(text))).toBe(text)
    }),
    { numRuns: 500 },
  )
})

it('is laid out as JSON.stringify lays it out, with sorted keys', () => {
  const value = { b: [1, -0, 1e21, 0.1, [], {}], a: { z: null, y: 'ü"\u0001\ud800', x: undefined }, c: true }
  const sorted = { a: { y: value.a.y, z: null }, b: value.b, c: true }
  expect(canonicalText(value)).toBe(`${JSON.stringify(sorted, null, 2)}\n`)
})
