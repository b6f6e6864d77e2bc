// Text in a Standard MIDI File: bytes that the parser hands over as characters 0…255, and UTF-8 in them.

/**
 * The text of a meta event. RP-001 says ASCII for exchange; files of today hold UTF-8 (common practice, no source):
 * what is not UTF-8 is taken as Latin-1. Control characters and runs of white space become one space.
 */
export const textOf = (bytes: string): string => tidy(utf8(bytes))

const tidy = (text: string): string => text.replace(/[\p{Cc}\s]+/gu, ' ').trim()

function utf8(bytes: string): string {
  try {
    return decodeURIComponent(bytes.replace(/./gs, c => `%${c.charCodeAt(0).toString(16).padStart(2, '0')}`))
  } catch {
    return bytes
  }
}

/** Text as the characters 0…255 that the writer takes for bytes: its UTF-8. */
export function bytesOf(text: string): string {
  return encodeURIComponent(text.replace(/\p{Surrogate}/gu, '\ufffd')).replace(/%(..)/g, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  )
}

/** Text on one line, cut to what a name may hold, or `otherwise` where nothing is left. */
export function nameOf(text: string, otherwise: string, most = 80): string {
  const cut = tidy(text)
    .slice(0, most)
    .replace(/[\uD800-\uDBFF]$/, '')
    .trim()
  return cut === '' ? otherwise : cut
}
