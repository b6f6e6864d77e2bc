// Sends MIDI clock: asks what is due a little ahead, and gives each byte to the port at its time.

import { clockDue, clockSender, type SongMotion } from '@glowchart/shared/clock/sender.ts'

/** Bytes are asked for this long before they are due, and this often. */
const AHEAD_MS = 12
const LOOK_MS = 5

export interface ClockOutOptions {
  /** Ms of the clock that `motion` is stamped with. */
  now(): number
  /** How the song moves; null while there is none. */
  motion(): SongMotion | null
  send(bytes: readonly number[]): void
}

/** Runs until closed; a song that plays then is stopped for whoever follows. */
export function startClockOut({ now, motion, send }: ClockOutOptions): { close(): void } {
  let sender = clockSender(now())
  /** In order: of two timers a moment apart the later may come first, and a Start must not follow its first pulse. */
  const waiting: (readonly number[])[] = []
  const timers = new Set<NodeJS.Timeout>()
  const look = setInterval(() => {
    const moves = motion()
    if (!moves) return
    const step = clockDue(sender, moves, now() + AHEAD_MS)
    sender = step.sender
    for (const { at, bytes } of step.due) {
      waiting.push(bytes)
      const timer = setTimeout(
        () => {
          timers.delete(timer)
          send(waiting.shift()!)
        },
        Math.max(0, at - now()),
      )
      timers.add(timer)
    }
  }, LOOK_MS)
  return {
    close() {
      clearInterval(look)
      for (const timer of timers) clearTimeout(timer)
      if (sender.playing) send([0xfc])
    },
  }
}
