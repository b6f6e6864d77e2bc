// Checking only what an edit changed finds what checking the whole document finds.

import { rigSchema } from '@glowchart/shared/rig/schema.ts'
import { faultOfChanged } from '@glowchart/shared/show/changed.ts'
import { faultOf } from '@glowchart/shared/show/faults.ts'
import { showSchema } from '@glowchart/shared/show/schema.ts'
import { describe, expect, it } from 'vitest'
import { sampleDocuments } from './samples.ts'

type Node = Record<string, unknown> | unknown[]
const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null

/** Every path into a value, the containers' too. */
function* paths(value: unknown, path: string[] = []): Generator<string[]> {
  if (path.length > 0) yield path
  if (isNode(value)) for (const [key, child] of Object.entries(value)) yield* paths(child, [...path, key])
}

const GONE = Symbol('gone')

/** A copy with another value (or none) at a path; all beside it is shared. */
function changedAt(value: unknown, [key, ...rest]: readonly string[], to: unknown): unknown {
  if (key === undefined) return to
  const copy = Array.isArray(value) ? [...value] : { ...(value as Record<string, unknown>) }
  const node = copy as Record<string, unknown>
  if (rest.length > 0 || to !== GONE) node[key] = changedAt(node[key], rest, to)
  else if (Array.isArray(copy)) copy.splice(Number(key), 1)
  else delete node[key]
  return copy
}

const wrong = [GONE, null, -1, 1.5, 1e9, '', 'no such thing', [], {}, true]

describe.each([
  ['rig', rigSchema],
  ['show', showSchema],
] as const)('a %s with one thing wrong', (kind, schema) => {
  it('is refused exactly where the whole schema refuses it, for the same fault', () => {
    const document = sampleDocuments()[kind]
    let refused = 0
    let taken = 0
    for (const [i, path] of [...paths(document)].entries()) {
      // Three of them a place, in turn, so that all meet every kind of field.
      for (const to of [0, 3, 7].map(step => wrong[(i + step) % wrong.length])) {
        const next = changedAt(document, path, to)
        const whole = schema.safeParse(next)
        const fault = faultOfChanged(schema, document, next)
        const name = `${path.join('.')}: ${String(to === GONE ? 'gone' : JSON.stringify(to))}`
        expect(fault, name).toEqual(whole.success ? null : faultOf(whole.error, next))
        if (fault) refused++
        else taken++
      }
    }
    expect(Math.min(refused, taken)).toBeGreaterThan(30)
  })

  it('is refused for a new item that is wrong, and for a key that is no id', () => {
    const document = sampleDocuments()[kind]
    const record = kind === 'rig' ? 'fixtures' : 'looks'
    for (const [key, item] of [
      ['new', 7],
      ['not an id!', Object.values(document[record as never] as object)[0]],
    ] as const) {
      const next = { ...document, [record]: { ...(document[record as never] as object), [key]: item } }
      const whole = schema.safeParse(next)
      expect(whole.success).toBe(false)
      expect(faultOfChanged(schema, document, next)).toEqual(whole.error && faultOf(whole.error, next))
    }
  })
})
