// The drawing of a plug from its solder side: where each contact stands, its letter, and what it is joined to.

import type { Build } from './schema.ts'

type Joined = Build['contacts'][number]

export interface Contact {
  /** A, B, C … in order round the plug, clockwise as seen from the solder side. */
  readonly letter: string
  readonly joined: Joined
  /** From the plug's middle in shares of its radius: right and down are positive. */
  readonly x: number
  readonly y: number
}

/** Contacts stand evenly round the plug, the first right of the top, where the key of a keyed plug would be. */
export const plugOf = (contacts: readonly Joined[]): Contact[] =>
  contacts.map((joined, i) => {
    const turn = ((i + 0.5) / contacts.length) * 2 * Math.PI
    return { letter: String.fromCharCode(65 + i), joined, x: Math.sin(turn), y: -Math.cos(turn) }
  })
