// Which of the ways to begin or to write a draft stands at the side of the page.

import { create } from 'zustand'
import { clearChoice, useChoice } from '../document/choice.ts'

export type IntakePanel = 'new' | 'midi' | 'rough'

interface Intake {
  readonly panel: IntakePanel | null
}

export const useIntake = create<Intake>(() => ({ panel: null }))

export function openIntake(panel: IntakePanel): void {
  clearChoice()
  useIntake.setState({ panel })
}

export const closeIntake = (): void => useIntake.setState({ panel: null })

// What is chosen on the chart while a draft is looked at has the panel; what is being typed keeps it.
useChoice.subscribe(({ cues, thing }) => {
  if ((cues.length > 0 || thing) && useIntake.getState().panel === 'rough') closeIntake()
})
