// What holds for every edit, found by long random sessions of them: valid, reversible, pure, to the byte.

import { CodedError } from '@glowchart/shared/errors.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { applyDiff, reverseOf } from '@glowchart/shared/show/diff.ts'
import { parseRig, parseShow } from '@glowchart/shared/show/document.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { applyEdit, takeBack } from '@glowchart/shared/show/edits.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { random } from '../support/random.ts'
import { editNames, randomEdit } from './random-edits.ts'
import { sampleDocuments } from './samples.ts'

const texts = new WeakMap<Documents, string>()
/** Kept for what is frozen: each document is asked for more than once. */
function text(documents: Documents): string {
  const known = texts.get(documents)
  if (known !== undefined) return known
  const written = canonicalText(documents)
  if (Object.isFrozen(documents)) texts.set(documents, written)
  return written
}

/** Any change in place throws. */
function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value)
    for (const child of Object.values(value)) frozen(child)
  }
  return value
}

/** Applies random edits one after the other; tells of each, refused or not. */
function session(
  seed: number,
  length: number,
  seen: (name: string, before: Documents, applied: ReturnType<typeof applyEdit> | null) => void,
): Documents {
  const next = random(seed)
  let documents = frozen(sampleDocuments())
  for (let i = 0; i < length; i++) {
    const { name, args } = randomEdit(documents, next, i)
    let applied: ReturnType<typeof applyEdit> | null = null
    try {
      applied = applyEdit(documents, name, JSON.parse(JSON.stringify(args)))
    } catch (error) {
      if (!(error instanceof CodedError) || !error.code.startsWith('edit.')) throw error
    }
    seen(name, documents, applied)
    if (applied) documents = frozen(applied.next)
  }
  return documents
}

describe('random sessions of edits', () => {
  it('every edit leaves valid documents that read back as they are, and its reverse restores every byte', () => {
    const count = new Map<string, number>()
    fc.assert(
      fc.property(fc.integer(), seed => {
        session(seed, 60, (name, before, applied) => {
          if (!applied) return
          count.set(name, (count.get(name) ?? 0) + 1)
          const { document, diff, says } = applied
          const next = frozen(applied.next)
          expect(says).not.toMatch(/undefined|\[object/)
          const plain = JSON.parse(text(next)) as Documents
          expect(next, name).toStrictEqual(plain)
          expect(text({ rig: parseRig(plain.rig, 'rig'), show: parseShow(plain.show, 'show') }), name).toBe(
            text(next),
          )
          const other = document === 'rig' ? 'show' : 'rig'
          expect(next[other]).toBe(before[other])
          const back = {
            ...next,
            [document]: applyDiff(next[document], reverseOf(JSON.parse(JSON.stringify(diff)))),
          }
          expect(text(back), name).toBe(text(before))
          expect(text({ ...before, [document]: applyDiff(before[document], diff) }), name).toBe(text(next))
        })
      }),
      // One seed, so that whether every edit was met is not left to chance.
      { numRuns: 40, seed: 20261125 },
    )
    // Each edit has been done, not only refused.
    expect(editNames.filter(name => !count.has(name))).toEqual([])
  }, 120_000)

  it('a whole session taken back, last edit first, ends at the first byte; done again, at the last', () => {
    fc.assert(
      fc.property(fc.integer(), seed => {
        const done: ReturnType<typeof applyEdit>[] = []
        let documents = session(seed, 80, (_name, _before, applied) => applied && done.push(applied))
        const last = text(documents)
        const undone = done.toReversed().map(applied => {
          const back = takeBack(documents, applied)
          documents = back.next
          return back
        })
        expect(text(documents)).toBe(text(sampleDocuments()))
        for (const back of undone.toReversed()) documents = takeBack(documents, back).next
        expect(text(documents)).toBe(last)
      }),
      { numRuns: 8 },
    )
  }, 120_000)
})
