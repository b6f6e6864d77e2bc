// Ids of new things, made on this page: cues, cue tracks, and the page itself.

/** `kind`, a dash and 16 random hexadecimal digits. Works on pages of plain HTTP too, unlike `crypto.randomUUID`. */
export function newId(kind: string): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8))
  return `${kind}-${[...bytes].map(byte => byte.toString(16).padStart(2, '0')).join('')}`
}
