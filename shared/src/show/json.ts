// JSON text to a value, with the line and column of what is wrong in it.

import { CodedError } from '../errors.ts'

/**
 * Reads JSON (a byte order mark before it is passed over); `where` names the file in errors.
 * @throws CodedError `file.empty`; `file.notJson` with line and column, both from 1
 */
export function parseJson(text: string, where: string): unknown {
  const json = text.startsWith('\uFEFF') ? text.slice(1) : text
  if (json.trim() === '') throw new CodedError('file.empty', 'the file is empty', where)
  try {
    return JSON.parse(json)
  } catch {
    const { offset, says } = firstFault(json)
    const before = json.slice(0, offset).split('\n')
    const place = `line ${before.length}, column ${before.at(-1)!.length + 1}`
    throw new CodedError('file.notJson', `${place}: ${says}`, `${where}: ${place}`)
  }
}

interface SyntaxFault {
  readonly offset: number
  readonly says: string
}

/** Where JSON (RFC 8259) breaks off; engines word it differently and do not all name the place. */
function firstFault(text: string): SyntaxFault {
  const blank = /[ \t\n\r]*/y
  const token =
    /([{}[\],:])|("[ !#-[\]-\uffff]*(?:\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})[ !#-[\]-\uffff]*)*")|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?(?![\w.+-])|(?:true|false|null)(?!\w)/y
  /** What is open, innermost last, and what may come next. */
  const open: ('{' | '[')[] = []
  let next: 'value' | 'valueOrEnd' | 'key' | 'keyOrEnd' | 'colon' | 'commaOrEnd' = 'value'
  let offset = 0
  for (;;) {
    blank.lastIndex = offset
    blank.exec(text)
    const start = blank.lastIndex
    token.lastIndex = start
    const match = token.exec(text)
    if (!match) {
      if (start >= text.length) return { offset: text.length, says: 'the text ends too early' }
      const says =
        text[start] === '"'
          ? 'a text that is not closed, or holds a character it may not'
          : `"${text[start]}" cannot stand here`
      return { offset: start, says }
    }
    const [, sign, quoted] = match
    const wrong = { offset: start, says: `${expected[next]} should stand here` }
    if (open.length === 0 && next === 'commaOrEnd') return { offset: start, says: 'the text should end here' }
    const closes = sign === '}' ? '{' : sign === ']' ? '[' : undefined
    if (closes) {
      const mayEnd = next === 'commaOrEnd' || next === 'valueOrEnd' || next === 'keyOrEnd'
      if (!mayEnd || open.at(-1) !== closes) return wrong
      open.pop()
      next = 'commaOrEnd'
    } else if (sign === ',') {
      if (next !== 'commaOrEnd') return wrong
      next = open.at(-1) === '{' ? 'key' : 'value'
    } else if (sign === ':') {
      if (next !== 'colon') return wrong
      next = 'value'
    } else if (next === 'key' || next === 'keyOrEnd') {
      if (quoted === undefined) return wrong
      next = 'colon'
    } else if (next === 'value' || next === 'valueOrEnd') {
      if (sign === '{' || sign === '[') {
        open.push(sign)
        next = sign === '{' ? 'keyOrEnd' : 'valueOrEnd'
      } else next = 'commaOrEnd'
    } else return wrong
    offset = token.lastIndex
  }
}

const expected = {
  value: 'a value',
  valueOrEnd: 'a value or ]',
  key: 'a field name in quotes',
  keyOrEnd: 'a field name in quotes or }',
  colon: 'a colon',
  commaOrEnd: 'a comma or the end of the object or list',
} as const
