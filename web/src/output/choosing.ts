// Choosing where the light goes: live at once, and kept with the show for the next time.

import type { Output, Route } from '@glowchart/shared/show/output.ts'
import { useMemo } from 'react'
import { edit } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { setOutput } from '../live/desk.ts'

/** Sends there from now on. The show keeps it only when the engine has taken it. */
export async function choose(output: Output): Promise<void> {
  const answer = await setOutput(output)
  if (answer.ok) await edit('setOutput', { output })
}

/** Sends where the show last sent. */
export const chooseAgain = (kept: Output): Promise<unknown> => setOutput(kept)

/** Nothing leaves from now on; the show still knows where it went. */
export const turnOff = (kept: Output): Promise<unknown> => setOutput({ ...kept, routes: [] })

/** The routes that are sent now. */
export function useLiveRoutes(): readonly Route[] {
  // The status comes ten times a second; the routes are the same ones until they change.
  const text = useSession(s => JSON.stringify(s.status?.outputs.map(o => o.route) ?? []))
  return useMemo(() => JSON.parse(text) as Route[], [text])
}
