// Equal parts of two documents as the same objects: what differs is then found at once, and memory holds them once.

/** The value, with every part that equals its counterpart in another one replaced by that. Nothing given is changed. */
export function sharing<T>(value: T, other: unknown): T {
  if (typeof value !== 'object' || value === null || typeof other !== 'object' || other === null) return value
  if (value === other || Array.isArray(value) !== Array.isArray(other)) return value
  const known = other as Readonly<Record<string, unknown>>
  const entries = Object.entries(value).map(([key, item]) => [
    key,
    Object.hasOwn(known, key) ? sharing(item, known[key]) : item,
  ])
  const isSame =
    entries.length === Object.keys(known).length && entries.every(([key, item]) => item === known[key])
  if (isSame) return other as T
  return (Array.isArray(value) ? entries.map(([, item]) => item) : Object.fromEntries(entries)) as T
}
