// Where the song is at this moment: the last position the engine told, carried on to now, never running backwards.

import { engineTime } from './engine-clock.ts'

/** A position in ticks at an engine time in ms. */
interface Fix {
  readonly position: number
  readonly at: number
  readonly playing: boolean
}

/** Further from the expected place than this (half a quarter note), a new position is a jump, not jitter. */
const JUMP = 480
/** How long a position is carried on without news, ms: longer would claim what nobody knows. */
const CARRY = 250
/** The same for what is not shown, but written down: frames may come late to a busy page. */
const LATEST = 2000

let fix: Fix | null = null
/** Ticks a ms. */
let pace = 0
let shown = 0

const listeners = new Set<(fix: Fix) => void>()

/** Calls `tell` with every position the engine tells. Returns what ends it. */
export function onFix(tell: (fix: Fix) => void): () => void {
  listeners.add(tell)
  return () => listeners.delete(tell)
}

/** Takes what the engine says. @param bpm used for the pace until two positions in a row tell it */
export function takeFix(next: Fix, bpm: number): void {
  const elapsed = fix ? next.at - fix.at : 0
  if (fix && elapsed <= 0 && next.playing === fix.playing && next.position === fix.position) return
  const expected = fix ? fix.position + pace * elapsed : Number.NaN
  const follows = fix?.playing && next.playing && Math.abs(next.position - expected) < JUMP
  if (!follows) {
    shown = next.position
    pace = (bpm * 960) / 60_000
  } else if (elapsed > 0) {
    pace = (next.position - fix!.position) / elapsed
  }
  fix = next
  for (const tell of listeners) tell(next)
}

/** Whether the position is another one from moment to moment. */
export const positionMoves = (): boolean => fix?.playing === true

/** The written position in ticks at a page time in ms; 0 before anything is known. */
export function positionAt(now: number): number {
  if (!fix) return 0
  if (!fix.playing) return fix.position
  const engine = engineTime(now)
  const ahead = engine === null ? 0 : Math.min(CARRY, Math.max(0, engine - fix.at))
  shown = Math.max(shown, fix.position + pace * ahead)
  return shown
}

/**
 * The written position at the moment something happened on the page, not held to what was shown since.
 * @param then page time in ms, not long ago; null while the song does not play
 */
export function positionThen(then: number): number | null {
  const engine = engineTime(then)
  if (!fix?.playing || engine === null) return null
  const off = Math.min(LATEST, Math.max(-CARRY, engine - fix.at))
  return Math.max(0, fix.position + pace * off)
}
