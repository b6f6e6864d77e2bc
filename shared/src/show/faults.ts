// From a schema's issue to plain words: which field is wrong, what it must be, and what it is.

import type { z } from 'zod'

type Issue = z.core.$ZodIssue

export interface Fault {
  /** Path to the field, e.g. "songs.s1.sections.a.bars"; empty for the whole value. */
  readonly path: string
  /** "must be a whole number, but is a text ("four")". */
  readonly says: string
}

/** The first fault that a schema found in `value`, at the most telling place. */
export function faultOf(error: z.core.$ZodError, value: unknown): Fault {
  const { path, issue } = deepest(error.issues[0]!, [], value)
  return { path: path.map(String).join('.'), says: says(issue, at(value, path)) }
}

interface Found {
  readonly path: readonly PropertyKey[]
  readonly issue: Issue
}

/** Of a union's branches, the one that was meant is the one whose first fault lies deepest. */
function deepest(issue: Issue, above: readonly PropertyKey[], value: unknown): Found {
  const path = [...above, ...issue.path]
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return { path, issue }
  const branches = issue.errors.filter(errors => !isForeign(errors, at(value, path)))
  let best: Found | undefined
  for (const errors of branches.length > 0 ? branches : issue.errors) {
    for (const error of errors.slice(0, 1)) {
      const found = deepest(error, path, value)
      if (!best || found.path.length > best.path.length) best = found
    }
  }
  return best ?? { path, issue }
}

/** A branch that wants another kind of value, or a field that is not there while others are, was not meant. */
function isForeign(errors: readonly Issue[], value: unknown): boolean {
  const first = errors[0]
  if (first?.code !== 'invalid_type') return false
  if (first.path.length === 0) return true
  return first.path.length === 1 && at(value, first.path) === undefined && Object.keys(value ?? {}).length > 0
}

function at(value: unknown, path: readonly PropertyKey[]): unknown {
  let node = value
  for (const key of path) {
    if (typeof node !== 'object' || node === null || !Object.hasOwn(node, key)) return undefined
    node = (node as Record<PropertyKey, unknown>)[key]
  }
  return node
}

function says(issue: Issue, value: unknown): string {
  const is = value === undefined ? 'is missing' : `is ${described(value)}`
  return `must be ${wanted(issue)}, but ${is}`
}

function wanted(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return kinds[issue.expected] ?? issue.expected
    case 'too_small':
      return sized(issue.origin, `at least ${issue.minimum}`, issue.inclusive === false ? 'more than ' : '')
    case 'too_big':
      return sized(issue.origin, `at most ${issue.maximum}`, issue.inclusive === false ? 'less than ' : '')
    case 'invalid_value':
      return issue.values.length === 1
        ? quoted(issue.values[0])
        : `one of ${issue.values.map(quoted).join(', ')}`
    case 'invalid_format':
      return formats[issue.format] ?? (issue.pattern === hexPattern ? 'a colour such as "#e0a030"' : idText)
    case 'invalid_union':
      return 'options' in issue && Array.isArray(issue.options)
        ? `one of ${issue.options.map(quoted).join(', ')}`
        : 'something else'
    case 'invalid_key':
      return `under an id: ${idText}`
    default:
      return issue.message
  }
}

function sized(origin: string, limit: string, than: string): string {
  const bound = than === '' ? limit : than + limit.replace(/^at (least|most) /, '')
  if (origin === 'string') return `a text of ${bound} characters`
  if (origin === 'array') return `a list of ${bound} items`
  return bound
}

const kinds: Record<string, string> = {
  int: 'a whole number',
  number: 'a number',
  string: 'a text',
  boolean: 'true or false',
  object: 'an object',
  record: 'an object',
  array: 'a list',
  tuple: 'a list',
  null: 'null',
  nonoptional: 'given',
}
const idText =
  'made of letters, digits, - and _, at most 64, a letter or digit first, and no name such as "constructor"'
const hexPattern = '/^#[0-9a-f]{6}$/'
const formats: Record<string, string> = {
  ipv4: 'an IPv4 address such as 127.0.0.1',
  datetime: 'a time such as 2031-05-04T19:30:00Z',
}

const quoted = (value: unknown): string => (typeof value === 'string' ? `"${value}"` : String(value))

function described(value: unknown): string {
  if (value === null) return 'null'
  if (Array.isArray(value)) return `a list of ${value.length}`
  if (typeof value === 'object') return 'an object'
  if (typeof value === 'string')
    return `the text ${JSON.stringify(value.length > 40 ? `${value.slice(0, 40)}…` : value)}`
  return String(value)
}
