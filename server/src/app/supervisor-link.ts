// The app's line to its supervisor: what the last start left, the answer to it, and notes for the log of the night.

import type { NightEvent } from '@glowchart/shared/night/event.ts'
import type { Kept } from '@glowchart/shared/recovery/kept.ts'

export type ToSupervisor =
  /** The app listens now. */
  | { type: 'ready' }
  /** The offer has been taken up, or put aside. */
  | { type: 'answered'; how: 'goOn' | 'fresh' }
  | { type: 'note'; kind: NightEvent['kind']; says: string; fault?: boolean }

export type FromSupervisor =
  | { type: 'offer'; offer: Kept | null }
  /** Windows has no signal that could be heard. */
  | { type: 'end' }

export interface SupervisorLink {
  readonly offer: Kept | null
  /** `listener` is called whenever the offer is another one. */
  listen(listener: () => void): void
  answered(how: 'goOn' | 'fresh'): void
  note(kind: NightEvent['kind'], says: string, fault?: boolean): void
}

/** Over the channel that the supervisor opened; without one, nothing is offered and nothing is noted. */
export function supervisorLink(): SupervisorLink {
  const listeners: (() => void)[] = []
  let offer: Kept | null = null
  const tell = (message: ToSupervisor): void => {
    // A supervisor that is gone hears nothing; the app goes on without it.
    if (process.connected) process.send!(message, () => {})
  }
  process.on('message', (message: FromSupervisor) => {
    if (message.type !== 'offer') return
    offer = message.offer
    for (const listener of listeners) listener()
  })
  tell({ type: 'ready' })
  return {
    get offer() {
      return offer
    },
    listen: listener => void listeners.push(listener),
    answered(how) {
      offer = null
      tell({ type: 'answered', how })
    },
    note: (kind, says, fault) => tell({ type: 'note', kind, says, ...(fault !== undefined && { fault }) }),
  }
}

/** For an app that nobody looks after. */
export const noSupervisor: SupervisorLink = {
  offer: null,
  listen() {},
  answered() {},
  note() {},
}
