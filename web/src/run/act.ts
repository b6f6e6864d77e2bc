// Does on the page what an action means now, and tells what that is: the answer a pedal gets too.

import type { Transport } from '@glowchart/shared/messages.ts'
import type { Action } from '@glowchart/shared/trigger/action.ts'
import { type Deed, deedOf } from '@glowchart/shared/trigger/deed.ts'
import { situationAt } from '@glowchart/shared/trigger/situation.ts'
import { useMemo } from 'react'
import { useSession } from '../document/session.ts'
import { press, setLive } from '../live/desk.ts'
import { engineTime } from '../live/engine-clock.ts'
import { playedNow, usePlayed } from '../version/running.ts'

/** What an action would do now; null before the engine has answered. */
export function deedNow(action: Action): Deed | null {
  const played = playedNow()
  const { status } = useSession.getState()
  if (!played || !status) return null
  const now = engineTime(performance.now()) ?? status.at
  return deedOf(action, played.show, situationAt(status, played.show, now))
}

export function useDeed(action: Action): Deed | null {
  const show = usePlayed()?.show
  const status = useSession(s => s.status)
  return useMemo(() => (show && status ? deedOf(action, show, status) : null), [action, show, status])
}

/** Does it. Returns what letting go of it does, for an action that lasts while it is held. */
export function act(action: Action): () => void {
  const deed = deedNow(action)
  if (deed) void carryOut(deed)
  return () => {
    if (deed?.letGo) void setLive(deed.letGo)
  }
}

/** A tap counts when it comes down, not when it has travelled to the engine. */
function tapNow(tap: Extract<Transport, { do: 'tap' }>): Transport {
  const at = engineTime(performance.now())
  return at === null ? tap : { ...tap, at }
}

async function carryOut({ presses, live }: Deed): Promise<void> {
  for (const one of presses) if (!(await press(one.do === 'tap' ? tapNow(one) : one)).ok) return
  if (live) await setLive(live)
}
