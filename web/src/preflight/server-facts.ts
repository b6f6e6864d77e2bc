// Asks the server to look at itself: at once, after edits, and every few seconds while the preflight is open.

import type { ServerFacts } from '@glowchart/shared/preflight/facts.ts'
import { useEffect, useState } from 'react'
import { useDocument } from '../document/document.ts'
import { useSession } from '../document/session.ts'
import { useVersion } from '../version/running.ts'

const EVERY = 10_000
/** An edit waits so long for the next one, ms. */
const PAUSE = 700

/** Null before it has answered, and while it does not. `again` asks now. */
export function useServerFacts(): { facts: ServerFacts | null; again: () => void } {
  const [facts, setFacts] = useState<ServerFacts | null>(null)
  const [asked, setAsked] = useState(0)
  const show = useDocument(s => s.show)
  const rig = useDocument(s => s.rig)
  const link = useSession(s => s.link)
  const touched = useSession(s => s.touched)
  const running = useVersion(s => s.running)
  // biome-ignore lint/correctness/useExhaustiveDependencies: each of them may change what the server finds.
  useEffect(() => {
    const end = new AbortController()
    const ask = () =>
      fetch('/api/preflight', { signal: end.signal })
        .then(answer => (answer.ok ? (answer.json() as Promise<ServerFacts>) : null))
        .then(setFacts, () => !end.signal.aborted && setFacts(null))
    const soon = setTimeout(ask, PAUSE)
    const timer = setInterval(ask, EVERY)
    return () => {
      end.abort()
      clearTimeout(soon)
      clearInterval(timer)
    }
  }, [show, rig, link, touched, running, asked])
  return { facts, again: () => setAsked(n => n + 1) }
}
