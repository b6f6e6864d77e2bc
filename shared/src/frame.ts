// A frame on its way to a page: position and the universes' bytes, as one binary message.

/**
 * Layout, little-endian: 0 u32 frame number · 4 f64 written position (ticks) · 12 f64 when the song passes it (ms of
 * the machine's monotonic clock; with a light offset that is not when the frame is sent) · 20 u8 playing · 21 u8 0 ·
 * 22 u16 number of universes n · then n × (u16 universe, 512 bytes).
 */
export const FRAME_HEADER = 24
const UNIVERSE_BYTES = 2 + 512

export interface Frame {
  number: number
  position: number
  due: number
  playing: boolean
  universes: readonly number[]
  /** 512 bytes a universe, in the order of `universes`. */
  levels: Uint8Array
}

/** Writes a frame; `into` is used again when it has the right size. */
export function encodeFrame(frame: Frame, into?: Uint8Array): Uint8Array {
  const size = FRAME_HEADER + frame.universes.length * UNIVERSE_BYTES
  const bytes = into && into.length === size ? into : new Uint8Array(size)
  const view = new DataView(bytes.buffer, bytes.byteOffset, size)
  view.setUint32(0, frame.number >>> 0, true)
  view.setFloat64(4, frame.position, true)
  view.setFloat64(12, frame.due, true)
  view.setUint8(20, frame.playing ? 1 : 0)
  view.setUint16(22, frame.universes.length, true)
  for (let i = 0; i < frame.universes.length; i++) {
    const at = FRAME_HEADER + i * UNIVERSE_BYTES
    view.setUint16(at, frame.universes[i]!, true)
    bytes.set(frame.levels.subarray(i * 512, i * 512 + 512), at + 2)
  }
  return bytes
}

/** Reads a frame; null when the bytes are not one. */
export function decodeFrame(bytes: Uint8Array): Frame | null {
  if (bytes.length < FRAME_HEADER) return null
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length)
  const count = view.getUint16(22, true)
  if (bytes.length !== FRAME_HEADER + count * UNIVERSE_BYTES) return null
  const universes: number[] = []
  const levels = new Uint8Array(count * 512)
  for (let i = 0; i < count; i++) {
    const at = FRAME_HEADER + i * UNIVERSE_BYTES
    universes.push(view.getUint16(at, true))
    levels.set(bytes.subarray(at + 2, at + UNIVERSE_BYTES), i * 512)
  }
  return {
    number: view.getUint32(0, true),
    position: view.getFloat64(4, true),
    due: view.getFloat64(12, true),
    playing: view.getUint8(20) === 1,
    universes,
    levels,
  }
}
