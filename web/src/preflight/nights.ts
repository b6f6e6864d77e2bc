// The log of the nights as the server has it: which there are, and one of them, read again while it is looked at.

import type { NightEvent } from '@glowchart/shared/night/event.ts'
import { useEffect, useState } from 'react'

export interface Nights {
  readonly tonight: string
  /** Minutes that the server's local time is ahead of UTC. */
  readonly offset: number
  /** Newest first. */
  readonly evenings: readonly string[]
}

export interface Night {
  readonly evening: string
  readonly events: readonly NightEvent[]
  /** Lines that could not be read. */
  readonly damaged: number
}

const EVERY = 3000

/** `night` is null while it is fetched, and when there is none. @param wanted an evening; null: the newest */
export function useNights(wanted: string | null): { nights: Nights | null; night: Night | null } {
  const nights = useFetched<Nights>('/api/nights', EVERY * 5)
  const evening = wanted ?? nights?.evenings[0] ?? null
  const read = useFetched<Omit<Night, 'evening'>>(evening && `/api/nights/${evening}`, EVERY)
  return { nights, night: evening !== null && read ? { evening, ...read } : null }
}

/** What a path gives, asked for again every so many ms; null before it has answered. The same answer is the same object. */
function useFetched<T>(path: string | null, every: number): T | null {
  const [got, setGot] = useState<{ path: string; text: string; value: T } | null>(null)
  useEffect(() => {
    if (path === null) return
    const end = new AbortController()
    const ask = async () => {
      try {
        const answer = await fetch(path, { signal: end.signal })
        if (!answer.ok) return
        const text = await answer.text()
        setGot(had =>
          had?.path === path && had.text === text ? had : { path, text, value: JSON.parse(text) },
        )
      } catch {
        // Not connected, or left: what was read stays.
      }
    }
    void ask()
    const timer = setInterval(ask, every)
    return () => {
      end.abort()
      clearInterval(timer)
    }
  }, [path, every])
  return got !== null && got.path === path ? got.value : null
}
