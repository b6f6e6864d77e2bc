// What a file lacks of its journal: every edit that it does not hold yet, and none twice.

import { CodedError } from '@glowchart/shared/errors.ts'
import { applyDiff, type Diff } from '@glowchart/shared/show/diff.ts'
import { parseJson } from '@glowchart/shared/show/json.ts'
import { type Entry, hashOf, type Kind } from './journal.ts'

/** The document of a kind that a journal is kept for; null: it does not say. */
export function journalled(entries: readonly Entry[], kind: Kind): string | null {
  for (const entry of entries) if ('files' in entry && entry.files[kind]) return entry.files[kind].id
  return null
}

/**
 * A document with the edits that its file lacks. `text` is the file's; null: there is none.
 * @returns null when it lacks none
 * @throws CodedError `edit.conflict` when it lacks some and is not a file that they were made in; `file.*`
 */
export function replay(entries: readonly Entry[], kind: Kind, text: string | null, where: string): unknown {
  const hash = text === null ? undefined : hashOf(text)
  const from = entries.findLastIndex(entry => 'files' in entry && entry.files[kind]?.hash === hash)
  const lacking = entries
    .slice(from + 1)
    .flatMap(entry => ('edits' in entry ? entry.edits : []))
    .filter(({ document }) => document === kind)
  if (lacking.length === 0) return null
  if (text === null) throw new CodedError('edit.conflict', 'the file is gone', where)
  if (from < 0)
    throw new CodedError('edit.conflict', 'the file is another than the edits were made in', where)
  return lacking.reduce<unknown>((value, { diff }) => applyDiff(value, diff as Diff), parseJson(text, where))
}
