// How soon the engine's listening thread gets the machine: who follows must hear a heartbeat when it comes.

import { constants, setPriority } from 'node:os'

/**
 * Of this thread alone, so on Linux only. Who leads has its frame loop for what must not wait. Who follows is silent:
 * what must not wait there is the heartbeat, so this thread goes level with the frame loop. A heartbeat that is heard
 * late puts the light late after a change of hands, and many of them are taken for a loss.
 */
export function listenFirst(follows: boolean): void {
  if (process.platform !== 'linux') return
  try {
    setPriority(0, follows ? constants.priority.PRIORITY_HIGH : 10)
  } catch {
    // Not everybody may raise it: then heartbeats are heard a little later when the machine is busy.
  }
}
