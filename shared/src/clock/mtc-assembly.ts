// MIDI time code's bytes: eight quarter frames make one label, forwards or backwards; a full frame is one at once.

import { frameNumber, isTimecode, type Timecode, type TimecodeRate, timecodeRates } from './timecode.ts'

/** What was heard of the label under way. Plain data. */
export interface MtcAssembly {
  /** The nibble of each of the eight pieces as it came last. */
  readonly nibbles: readonly number[]
  /** The piece that came last; −1 before any. */
  readonly last: number
  /** Which way the pieces go; 0 until two have come in a row. */
  readonly direction: 1 | -1 | 0
  /** How many have come in a row that way. */
  readonly run: number
}

export const mtcAssembly: MtcAssembly = { nibbles: [0, 0, 0, 0, 0, 0, 0, 0], last: -1, direction: 0, run: 0 }

/** A place on the time code: quarter frames from 00:00:00:00. */
export interface MtcPlace {
  readonly quarters: number
  readonly rate: TimecodeRate
}

/**
 * Takes one quarter frame, F1 0nnn dddd: piece nnn, of frames, seconds, minutes and hours the low nibble and then the
 * high one; the last holds the rate too (0rrh). `place` is where the time code is as that piece comes, once a whole
 * label has come in one direction: piece n lies n quarter frames after the label's own frame, so the eighth of a label
 * comes 1¾ frames late, and the label is two frames old when the next one begins (MIDI time code, MMA RP-004/RP-008,
 * from memory). Backwards, pieces 7 to 0 pass the same places.
 */
export function assembled(
  before: MtcAssembly,
  data: number,
): { assembly: MtcAssembly; place: MtcPlace | null } {
  const piece = (data >> 4) & 7
  const nibbles = before.nibbles.with(piece, data & 0x0f)
  const direction =
    before.last < 0 ? 0 : piece === (before.last + 1) % 8 ? 1 : piece === (before.last + 7) % 8 ? -1 : 0
  const run = direction === 0 ? 1 : direction === before.direction ? before.run + 1 : 2
  const assembly: MtcAssembly = { nibbles, last: piece, direction, run }
  const isWhole = run >= 8 && piece === (direction === 1 ? 7 : 0)
  if (!isWhole) return { assembly, place: null }
  const label = labelOf(nibbles)
  return { assembly, place: label && placeOf(label.timecode, label.rate, piece) }
}

function placeOf(timecode: Timecode, rate: TimecodeRate, piece: number): MtcPlace | null {
  return isTimecode(timecode, rate) ? { quarters: 4 * frameNumber(timecode, rate) + piece, rate } : null
}

function labelOf(nibbles: readonly number[]): { timecode: Timecode; rate: TimecodeRate } | null {
  const byte = (piece: number): number => nibbles[piece]! | (nibbles[piece + 1]! << 4)
  return labelFrom(byte(6), byte(4), byte(2), byte(0))
}

/** @param hours with the rate in its bits 5 and 6 */
function labelFrom(hours: number, minutes: number, seconds: number, frames: number) {
  const rate = timecodeRates[(hours >> 5) & 3]!
  return { timecode: { hours: hours & 0x1f, minutes, seconds, frames }, rate }
}

/**
 * The place of a full frame, F0 7F dd 01 01 hh mm ss ff F7, to any device; null for another message, and for a label
 * that its rate has not.
 * @param bytes those between F0 and F7
 */
export function fullFrame(bytes: readonly number[]): MtcPlace | null {
  const [universal, , kind, what, hours, minutes, seconds, frames] = bytes
  if (bytes.length !== 8 || universal !== 0x7f || kind !== 1 || what !== 1) return null
  const { timecode, rate } = labelFrom(hours!, minutes!, seconds!, frames!)
  return placeOf(timecode, rate, 0)
}
