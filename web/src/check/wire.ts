// Holds a line check on the wire: tells it, tells it again as long as it stands, and knows when nothing has arrived.

import type { Check } from '@glowchart/shared/render/check.ts'
import { create } from 'zustand'
import { useSession } from '../document/session.ts'
import { holdCheck } from '../live/desk.ts'

/** Told again every so many ms: four times within the 2 s after which the engine takes the page for gone. */
const BEAT = 500
/** A press that has not arrived by then, ms, is said to be late. */
const LATE = 1000

/** `late`: the lights may still show what stood before. */
export const useWire = create<{ late: boolean }>(() => ({ late: false }))

let wanted: Check | null = null
let beating: ReturnType<typeof setInterval> | undefined
let sent = 0
/** What was told and not answered, oldest first. */
let unanswered: { readonly number: number; readonly at: number }[] = []

/** Puts a check on the wire at once and keeps it there; null ends it, and the lights go dark. */
export function hold(check: Check | null): void {
  if (check === null && wanted === null) return
  wanted = check
  clearInterval(beating)
  beating = setInterval(beat, BEAT)
  beat()
}

function beat(): void {
  // Never over a song; it goes on when the song has been stopped.
  if (useSession.getState().status?.playing) unanswered = []
  else tell()
  const oldest = unanswered[0]
  useWire.setState({ late: oldest !== undefined && performance.now() - oldest.at > LATE })
}

function tell(): void {
  sent += 1
  const number = sent
  const ends = wanted === null
  unanswered = [...unanswered, { number, at: performance.now() }]
  void holdCheck(wanted).then(answer => {
    // A socket that broke answers with nothing; the press still waits.
    if (!answer.ok && answer.problem === null) return
    unanswered = unanswered.filter(one => one.number > number)
    if (unanswered.length === 0) useWire.setState({ late: false })
    if (ends && wanted === null) clearInterval(beating)
  })
}
