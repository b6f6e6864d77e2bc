// The engine's status for the run page: when the connection is lost, what was heard last stays to be read.

import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { useRef } from 'react'
import { useSession } from '../document/session.ts'

/** `isOld`: nothing is heard now; null before anything was. */
export function useLastStatus(): { status: EngineStatus | null; isOld: boolean } {
  const now = useSession(s => s.status)
  const last = useRef(now)
  if (now) last.current = now
  return { status: last.current, isOld: now === null }
}
