// The canonical text of a document: equal documents give equal bytes, in files and for hashes.

/**
 * JSON with the keys of every object in one order (whole numbers first, by size; the others by code unit), indented by
 * 2, a line end at its end. Keys whose value is undefined are left out, as JSON does. Numbers are written as ECMAScript
 * writes them, so they read back the same.
 */
export const canonicalText = (document: unknown): string => `${JSON.stringify(sorted(document), null, 2)}\n`

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted)
  if (typeof value !== 'object' || value === null) return value
  const from = value as Record<string, unknown>
  const out: Record<string, unknown> = {}
  for (const key of Object.keys(from).sort()) {
    // Set plainly, it would be the prototype.
    if (key === '__proto__') Object.defineProperty(out, key, { value: sorted(from[key]), enumerable: true })
    else out[key] = sorted(from[key])
  }
  return out
}

/** Characters of the texts worth remembering: shorter ones are quick to write, longer ones are put together from them. */
const REMEMBERED = { from: 256, to: 65_536 }

/**
 * Makes a `canonicalText` that remembers the texts of a document's objects. Given documents that share with those
 * before what an edit left alone, it writes anew only what was touched. No object may change once it was given.
 */
export function canonicalWriter(): (document: unknown) => string {
  const known = new WeakMap<object, { indent: string; text: string }>()

  /** Adds the text of a value, in as few pieces as are known. */
  function write(value: unknown, indent: string, pieces: string[]): void {
    if (typeof value !== 'object' || value === null) return void pieces.push(JSON.stringify(value) ?? 'null')
    const before = known.get(value)
    if (before?.indent === indent) return void pieces.push(before.text)
    const first = pieces.length
    const inner = `${indent}  `
    const isList = Array.isArray(value)
    let between = isList ? '[' : '{'
    for (const [key, item] of isList ? value.entries() : sortedEntries(value)) {
      pieces.push(isList ? `${between}\n${inner}` : `${between}\n${inner}${JSON.stringify(key)}: `)
      write(item, inner, pieces)
      between = ','
    }
    if (between !== ',') pieces.push(isList ? '[]' : '{}')
    else pieces.push(isList ? `\n${indent}]` : `\n${indent}}`)
    let length = 0
    for (let i = first; i < pieces.length; i++) length += pieces[i]!.length
    if (length < REMEMBERED.from || length > REMEMBERED.to) return
    const text = pieces.splice(first).join('')
    known.set(value, { indent, text })
    pieces.push(text)
  }

  return document => {
    const pieces: string[] = []
    write(document, '', pieces)
    pieces.push('\n')
    return pieces.join('')
  }
}

function sortedEntries(object: object): [string, unknown][] {
  const entries = Object.entries(object).filter(([, value]) => value !== undefined)
  entries.sort(([a], [b]) => (a < b ? -1 : 1))
  // An object lists whole numbers before other keys.
  return entries.some(([key]) => /^\d/.test(key)) ? Object.entries(Object.fromEntries(entries)) : entries
}
