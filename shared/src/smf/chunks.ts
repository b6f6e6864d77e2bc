// The chunks that a Standard MIDI File consists of (MMA RP-001): four letters, a length, and so many bytes.

/** A chunk of kind `MThd` or `MTrk`. */
export function chunk(kind: 'MThd' | 'MTrk', body: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(8 + body.length)
  for (let i = 0; i < 4; i++) bytes[i] = kind.charCodeAt(i)
  new DataView(bytes.buffer).setUint32(4, body.length)
  bytes.set(body, 8)
  return bytes
}

/** Bytes laid end to end. */
export function joined(parts: readonly ArrayLike<number>[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    bytes.set(part, at)
    at += part.length
  }
  return bytes
}
