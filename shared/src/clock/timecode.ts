// SMPTE time code as labels: hh:mm:ss:ff to the number of its frame and to seconds, and back; drop frame among them.

/** Frames a second, in the order of MIDI time code's rate bits; 29.97 is drop frame. */
export const timecodeRates = ['24', '25', '29.97', '30'] as const
export type TimecodeRate = (typeof timecodeRates)[number]

/** What is read on the sender's display; `frames` counts from 0. */
export interface Timecode {
  readonly hours: number
  readonly minutes: number
  readonly seconds: number
  readonly frames: number
}

const COUNTED: Record<TimecodeRate, number> = { '24': 24, '25': 25, '29.97': 30, '30': 30 }

/** Frames in a second of real time: drop frame runs at 30000/1001 (SMPTE ST 12-1). */
export const framesPerSecond = (rate: TimecodeRate): number =>
  rate === '29.97' ? 30_000 / 1001 : COUNTED[rate]

/** Labels :00 and :01 are left out at the start of every minute that ten does not divide (SMPTE ST 12-1). */
const DROPPED = 2
const DROP_MINUTE = 60 * 30 - DROPPED
const DROP_TEN_MINUTES = 10 * DROP_MINUTE + DROPPED

/** Frames of 24 hours; numbers go from 0 up to it. 2589408 in drop frame. */
export const framesOfDay = (rate: TimecodeRate): number =>
  rate === '29.97' ? 144 * DROP_TEN_MINUTES : 86_400 * COUNTED[rate]

/** True for what the rate has a label for: a dropped one, or frame 24 of 24, it has not. */
export function isTimecode({ hours, minutes, seconds, frames }: Timecode, rate: TimecodeRate): boolean {
  const inRange = hours < 24 && minutes < 60 && seconds < 60 && frames < COUNTED[rate]
  return inRange && !(rate === '29.97' && frames < DROPPED && seconds === 0 && minutes % 10 !== 0)
}

/** The number of a label's frame, counted from 00:00:00:00. Frames past the rate's own run on into the next second. */
export function frameNumber({ hours, minutes, seconds, frames }: Timecode, rate: TimecodeRate): number {
  const minute = 60 * hours + minutes
  const all = (60 * minute + seconds) * COUNTED[rate] + frames
  if (rate !== '29.97') return all
  const isDropped = frames < DROPPED && seconds === 0 && minute % 10 !== 0
  // A label that was dropped stands for the first one there is.
  return all - DROPPED * (minute - Math.floor(minute / 10)) + (isDropped ? DROPPED - frames : 0)
}

/** The label of a frame by its number; numbers past a day begin anew. */
export function timecodeOf(frame: number, rate: TimecodeRate): Timecode {
  const day = framesOfDay(rate)
  const number = ((Math.floor(frame) % day) + day) % day
  const counted = COUNTED[rate]
  const label = rate === '29.97' ? number + droppedBefore(number) : number
  return {
    hours: Math.floor(label / (3600 * counted)),
    minutes: Math.floor(label / (60 * counted)) % 60,
    seconds: Math.floor(label / counted) % 60,
    frames: label % counted,
  }
}

/** Labels that were left out before a frame. */
function droppedBefore(number: number): number {
  const tens = Math.floor(number / DROP_TEN_MINUTES)
  const rest = number % DROP_TEN_MINUTES
  // The first minute of ten has all its 1800 labels.
  const minutes =
    rest < DROP_MINUTE + DROPPED ? 0 : 1 + Math.floor((rest - DROP_MINUTE - DROPPED) / DROP_MINUTE)
  return DROPPED * (9 * tens + minutes)
}

/** Real seconds from 00:00:00:00 to a label. */
export const timecodeSeconds = (label: Timecode, rate: TimecodeRate): number =>
  frameNumber(label, rate) / framesPerSecond(rate)

/** As documents hold a label, and as people type it; a semicolon before the frames is how drop frame is often written. */
export const TIMECODE = /^([01]\d|2[0-3]):([0-5]\d):([0-5]\d)[:;]([0-2]\d)$/

/** Null when the text is no label. */
export function timecodeFrom(text: string): Timecode | null {
  const found = TIMECODE.exec(text)
  if (!found) return null
  const [hours, minutes, seconds, frames] = found.slice(1).map(Number) as [number, number, number, number]
  return { hours, minutes, seconds, frames }
}

/** "01:00:03:12" */
export const timecodeText = ({ hours, minutes, seconds, frames }: Timecode): string =>
  [hours, minutes, seconds, frames].map(n => String(n).padStart(2, '0')).join(':')
