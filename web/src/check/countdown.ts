// The changeover on this page: its countdown, and which of its steps are done. Forgotten when the page is closed.

import { type Countdown, freshCountdown, pausedAt, startedAt } from '@glowchart/shared/check/changeover.ts'
import { create } from 'zustand'

interface Changeover {
  readonly countdown: Countdown
  readonly done: readonly string[]
}

export const useChangeover = create<Changeover>(() => ({ countdown: freshCountdown, done: [] }))

export function startOrPause(): void {
  const now = performance.now()
  useChangeover.setState(({ countdown }) => ({
    countdown: countdown.started === null ? startedAt(countdown, now) : pausedAt(countdown, now),
  }))
}

/** Sets the minutes, and begins from the whole of them. */
export const setMinutes = (minutes: number): void =>
  useChangeover.setState({ countdown: { of: minutes * 60_000, ran: 0, started: null } })

/** The whole time again, paused, with every step still to do. */
export const resetChangeover = (): void =>
  useChangeover.setState(({ countdown }) => ({
    countdown: { ...countdown, ran: 0, started: null },
    done: [],
  }))

export const toggleStep = (id: string): void =>
  useChangeover.setState(({ done }) => ({
    done: done.includes(id) ? done.filter(other => other !== id) : [...done, id],
  }))
