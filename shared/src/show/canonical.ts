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
