// The session state: what this page is doing now, forgotten when it is closed.

import type { AccessState } from '@glowchart/shared/access/access.ts'
import type { Role } from '@glowchart/shared/access/role.ts'
import type { Problem } from '@glowchart/shared/errors.ts'
import type { EngineStatus, Network } from '@glowchart/shared/messages.ts'
import type { Offer } from '@glowchart/shared/recovery/kept.ts'
import type { Input } from '@glowchart/shared/trigger/trigger.ts'
import { create } from 'zustand'
import { roleByAddress } from '../access/by-address.ts'

interface Session {
  /** What this page may do. */
  role: Role
  /** The server does not know who this is: a PIN is needed. */
  isStranger: boolean
  /** Others on the network; null on pages that are not the laptop's own. */
  access: AccessState | null
  link: 'opening' | 'open' | 'lost'
  status: EngineStatus | null
  /** The song that stands in the engine, as last heard: it outlasts a lost connection. */
  loaded: string | null
  /** Frames should come and do not: the engine plays, or should, and nothing arrives. */
  framesStale: boolean
  /** The song on the page. Follows the engine's when that changes. */
  song: string | null
  /** Lines of the chart opened or folded by hand, by their key. */
  lines: Record<string, boolean>
  /** What the engine last found on its networks; null until it was asked. */
  network: Network | null
  /** The last refusal, until the next press. */
  problem: Problem | null
  /** What the live region says. */
  said: string
  /** What was pressed last at a MIDI port of the server; a new object with every press. */
  touched: { readonly input: Input } | null
  /** Where the show was left before the server was started, until somebody has answered. */
  offer: Offer | null
  /** The code that the second laptop's user types, shown to this page alone. */
  pairingCode: string | null
  showsKeys: boolean
  choosesOutput: boolean
  showsAdvice: boolean
}

export const useSession = create<Session>(() => ({
  role: roleByAddress(),
  isStranger: false,
  access: null,
  link: 'opening',
  status: null,
  loaded: null,
  framesStale: false,
  song: null,
  lines: {},
  network: null,
  problem: null,
  said: '',
  touched: null,
  offer: null,
  pairingCode: null,
  showsKeys: false,
  choosesOutput: false,
  showsAdvice: false,
}))

/** Says something to assistive technology: section changes and alarms, not beats. */
export function say(said: string): void {
  useSession.setState({ said })
}
