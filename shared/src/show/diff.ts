// Reversible diffs: the difference of two documents as leaf changes by path, to apply, reverse and check.

import { CodedError } from '../errors.ts'

/** One change: the value at `path` goes from `before` to `after`; a missing side means the key was not there. */
export interface Change {
  readonly path: readonly string[]
  readonly before?: unknown
  readonly after?: unknown
}
export type Diff = readonly Change[]

type Plain = Record<string, unknown>
const isPlain = (v: unknown): v is Plain => typeof v === 'object' && v !== null && !Array.isArray(v)

/** True when two JSON values are equal, whatever the order of their keys. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (a === b) return true
  if (Array.isArray(a) && Array.isArray(b))
    return a.length === b.length && a.every((v, i) => sameValue(v, b[i]))
  if (!isPlain(a) || !isPlain(b)) return false
  const keys = Object.keys(a)
  return (
    keys.length === Object.keys(b).length && keys.every(k => Object.hasOwn(b, k) && sameValue(a[k], b[k]))
  )
}

/**
 * The difference of two documents. Objects are compared key by key; arrays and scalars are whole values.
 * Shared structure (the same reference) is skipped, so the cost is that of what an edit touched.
 */
export function diffOf(before: unknown, after: unknown): Diff {
  const changes: Change[] = []
  walk([], before, after, changes)
  return changes
}

function walk(path: readonly string[], before: unknown, after: unknown, changes: Change[]): void {
  if (before === after) return
  if (!isPlain(before) || !isPlain(after)) {
    if (!sameValue(before, after)) changes.push({ path, before, after })
    return
  }
  for (const key of Object.keys(before)) {
    if (Object.hasOwn(after, key)) walk([...path, key], before[key], after[key], changes)
    else changes.push({ path: [...path, key], before: before[key] })
  }
  for (const key of Object.keys(after)) {
    if (!Object.hasOwn(before, key)) changes.push({ path: [...path, key], after: after[key] })
  }
}

/** The diff that takes another one back. */
export function reverseOf(diff: Diff): Diff {
  return diff.map(reverseChange).reverse()
}

function reverseChange(change: Change): Change {
  return {
    path: change.path,
    ...('after' in change ? { before: change.after } : {}),
    ...('before' in change ? { after: change.before } : {}),
  }
}

/**
 * Applies a diff. Every `before` must still stand, or nothing is applied.
 * @throws CodedError `edit.conflict` naming the first path that has changed since.
 */
export function applyDiff<T>(document: T, diff: Diff): T {
  let out: unknown = document
  for (const change of diff) out = applyChange(out, change.path, change, change.path)
  return out as T
}

function applyChange(
  node: unknown,
  path: readonly string[],
  change: Change,
  whole: readonly string[],
): unknown {
  const [key, ...rest] = path
  if (key === undefined) {
    if (!sameValue(node, change.before)) throw conflict(whole)
    return change.after
  }
  if (!isPlain(node)) throw conflict(whole)
  if (rest.length > 0) {
    if (!Object.hasOwn(node, key)) throw conflict(whole)
    return { ...node, [key]: applyChange(node[key], rest, change, whole) }
  }
  const had = Object.hasOwn(node, key)
  if (had !== 'before' in change || (had && !sameValue(node[key], change.before))) throw conflict(whole)
  const copy = { ...node }
  if ('after' in change) copy[key] = change.after
  else delete copy[key]
  return copy
}

function conflict(path: readonly string[]): CodedError {
  return new CodedError('edit.conflict', `${path.join('.')} has changed since`, path.join('.'))
}
