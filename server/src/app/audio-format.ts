// What kind of audio a file holds, read from its first bytes and never from its name.

const AUDIO_KINDS = { wav: 'audio/wav', mp3: 'audio/mpeg', flac: 'audio/flac', ogg: 'audio/ogg' } as const
export type AudioKind = keyof typeof AUDIO_KINDS

/** The media type of a kind. */
export const mediaType = (kind: AudioKind): string => AUDIO_KINDS[kind]

/** Bytes that `audioKind` looks at. */
export const HEAD_BYTES = 12

/**
 * The kind of a file that begins with these bytes; null for any other, and for fewer than `HEAD_BYTES` of them.
 *
 * WAVE: "RIFF", length, "WAVE" (IBM and Microsoft, Multimedia Programming Interface 1.0, 1991). FLAC: "fLaC"
 * (RFC 9639, 6). Ogg: "OggS" (RFC 3533, 6). MP3: an ID3v2 tag ("ID3"), or the header of an MPEG audio frame: eleven
 * bits of sync, then no reserved version, layer, bit rate or sampling rate (ISO/IEC 11172-3, 2.4.1.3; from memory).
 */
export function audioKind(head: Uint8Array): AudioKind | null {
  if (head.length < HEAD_BYTES) return null
  const text = (from: number, to: number) => String.fromCharCode(...head.subarray(from, to))
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WAVE') return 'wav'
  if (text(0, 4) === 'fLaC') return 'flac'
  if (text(0, 4) === 'OggS') return 'ogg'
  if (text(0, 3) === 'ID3' || isMpegFrame(head)) return 'mp3'
  return null
}

function isMpegFrame([sync, a, b]: Uint8Array): boolean {
  if (sync !== 0xff || a === undefined || b === undefined) return false
  const version = (a >> 3) & 3
  const layer = (a >> 1) & 3
  return a >> 5 === 7 && version !== 1 && layer !== 0 && b >> 4 !== 15 && ((b >> 2) & 3) !== 3
}
