// Canonical text: equal documents give equal bytes, and what is written reads back the same.

import { CodedError } from '@glowchart/shared/errors.ts'
import { canonicalText, canonicalWriter } from '@glowchart/shared/show/canonical.ts'
import { sameValue } from '@glowchart/shared/show/diff.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { random } from '../support/random.ts'
import { randomEdit } from './random-edits.ts'
import { sampleDocuments } from './samples.ts'

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

describe('a writer that remembers', () => {
  it('writes the same bytes, of any value, the first time and again', () => {
    const write = canonicalWriter()
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), value => {
        expect(write(value)).toBe(canonicalText(value))
        expect(write(value)).toBe(canonicalText(value))
        expect(write({ deeper: [value] })).toBe(canonicalText({ deeper: [value] }))
      }),
      { numRuns: 500 },
    )
    const odd = {
      10: 1,
      9: 2,
      '01': 3,
      a: undefined,
      list: [undefined, Number.NaN, [], {}],
      none: { x: undefined },
    }
    const all = [odd, JSON.parse('{"__proto__":{"b":1,"a":2}}')]
    expect(write(all)).toBe(canonicalText(all))
  })

  it('writes the same bytes after every one of many edits, which share what they leave alone', () => {
    const write = canonicalWriter()
    const next = random(77)
    let documents = sampleDocuments()
    let done = 0
    for (let i = 0; i < 600; i++) {
      const { name, args } = randomEdit(documents, next, i)
      try {
        documents = applyEdit(documents, name, JSON.parse(JSON.stringify(args))).next
        done++
      } catch (error) {
        if (!(error instanceof CodedError)) throw error
      }
      expect(write(documents.show)).toBe(canonicalText(documents.show))
      expect(write(documents.rig)).toBe(canonicalText(documents.rig))
    }
    expect(done).toBeGreaterThan(100)
  })
})
