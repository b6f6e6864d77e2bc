// A deliberate step on what runs: looked at first, then done or left.

import type { Problem } from '@glowchart/shared/errors.ts'
import type { Checked, VersionEntry } from '@glowchart/shared/version/request.ts'
import type { Take } from '@glowchart/shared/version/take.ts'
import { create } from 'zustand'
import { say } from '../document/session.ts'
import { askVersion } from '../live/desk.ts'
import { useVersion } from './running.ts'

export type Step =
  | { readonly do: 'publish'; readonly take: Take; readonly what: string }
  | { readonly do: 'run'; readonly version: VersionEntry }
  | { readonly do: 'end' }

interface Taking {
  readonly step: Step | null
  /** What publishing would do; null while it is read, and for the other steps. */
  readonly checked: Checked | null
  /** To be played though it has advice that it must not be played so. */
  readonly despite: boolean
  readonly problem: Problem | null
  readonly busy: boolean
}

const resting: Taking = { step: null, checked: null, despite: false, problem: null, busy: false }
export const useStep = create<Taking>(() => resting)

/** Looks at what a step would do. Nothing that runs is touched. */
export async function lookAt(step: Step): Promise<void> {
  useStep.setState({ ...resting, step })
  if (step.do !== 'publish') return
  useStep.setState({ busy: true })
  useVersion.setState({ checked: null, checking: null })
  const answer = await askVersion({ do: 'check', take: step.take })
  if (useStep.getState().step !== step) return
  const checked = answer.ok ? useVersion.getState().checked : null
  useStep.setState({ checked, problem: answer.ok ? null : answer.problem, busy: false })
}

export function leaveStep(): void {
  const { step, checked, busy } = useStep.getState()
  useStep.setState(resting)
  // Nobody waits for its check any more.
  if (busy && step?.do === 'publish' && !checked) void askVersion({ do: 'leave' })
}

export const stopsIn = ({ advice }: Checked) => advice.filter(({ severity }) => severity === 'stop')

/** Does it; what must not be played so only when it was said that it is to be done all the same. */
export async function takeStep(): Promise<void> {
  const { step, checked, despite, busy } = useStep.getState()
  if (!step || busy || !mayBeTaken(useStep.getState())) return
  useStep.setState({ busy: true, problem: null })
  const running = useVersion.getState().running?.number ?? null
  const answer = await askVersion(
    step.do === 'publish'
      ? { do: 'publish', take: step.take, hash: checked!.hash, despite }
      : step.do === 'run'
        ? { do: 'run', number: step.version.number, from: running }
        : { do: 'end', from: running ?? 0 },
  )
  if (!answer.ok) return useStep.setState({ problem: answer.problem, busy: false })
  leaveStep()
  const now = useVersion.getState().running
  say(now ? `Version ${now.number} plays.` : 'Rehearsal: the draft sounds.')
}

export const mayBeTaken = ({ step, checked, despite }: Taking): boolean =>
  step?.do !== 'publish' || (checked !== null && (despite || stopsIn(checked).length === 0))
