// Which of the ways to begin or to write a draft stands at the side of the page.

import { create } from 'zustand'
import { clearChoice, useChoice } from '../document/choice.ts'

export type IntakePanel = 'new' | 'midi' | 'rough'

interface Intake {
  readonly panel: IntakePanel | null
}

export const useIntake = create<Intake>(() => ({ panel: null }))

/** It was opened by a button, which goes while the panel stands. */
let byButton = false

export function openIntake(panel: IntakePanel): void {
  if (useIntake.getState().panel === null)
    byButton = document.activeElement?.matches(`[data-opens="${panel}"]`) ?? false
  clearChoice()
  useIntake.setState({ panel })
}

export const closeIntake = (): void => useIntake.setState({ panel: null })

/** Closes it with nothing done: the keyboard is back at what has opened it. */
export function leaveIntake(): void {
  const { panel } = useIntake.getState()
  closeIntake()
  if (byButton)
    requestAnimationFrame(() => document.querySelector<HTMLElement>(`[data-opens="${panel}"]`)?.focus())
}

// What is chosen on the chart while a draft is looked at has the panel; what is being typed keeps it.
useChoice.subscribe(({ cues, thing }) => {
  if ((cues.length > 0 || thing) && useIntake.getState().panel === 'rough') closeIntake()
})
