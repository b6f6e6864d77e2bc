// What one press does about a piece of advice, each as one step back; and what was done last, to be taken back.

import type { Advice } from '@glowchart/shared/advice/advice.ts'
import { type Remedy, remediesOf } from '@glowchart/shared/advice/remedy/remedy.ts'
import { useEffect, useMemo, useRef } from 'react'
import { create } from 'zustand'
import { useDocument } from '../document/document.ts'
import { editTogether, lastStep, undo, useHistory } from '../document/editing.ts'
import { say } from '../document/session.ts'
import { useAdvice } from './advising.ts'
import { useShownAdvice } from './marks.ts'

/** The remedy applied last from the list that stands, by its step. */
const useApplied = create<{ says: string; step: number }>(() => ({ says: '', step: 0 }))
useShownAdvice.subscribe((now, before) => {
  if (now.key !== before.key && now.key !== null) useApplied.setState({ says: '', step: 0 })
})

export function Remedies({ advice }: { advice: Advice }) {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const remedies = useMemo(
    () => (rig && show ? remediesOf({ rig, show }, show.tonight, advice) : []),
    [rig, show, advice],
  )
  // What stands here was read before the edit that is being read now.
  const isOld = useAdvice(s =>
    advice.place.song === undefined ? false : s.waiting.includes(advice.place.song),
  )
  if (remedies.length === 0) return null
  return (
    <ul className="remedies" aria-label="What one press does">
      {remedies.map(remedy => (
        <li key={remedy.label}>
          <button
            type="button"
            className="btn outline"
            aria-disabled={isOld}
            onClick={() => !isOld && apply(remedy)}
          >
            {remedy.label}
          </button>
        </li>
      ))}
    </ul>
  )
}

function apply({ says, edits }: Remedy): void {
  void editTogether(says, edits)
  useApplied.setState({ says, step: lastStep() })
  say(`${says}. The song is read again.`)
}

/** The step that was made here, while it is the last one. Has the focus, as the button that was pressed goes. */
export function Applied() {
  const { says, step } = useApplied()
  const undoSays = useHistory(s => s.undoSays)
  const button = useRef<HTMLButtonElement>(null)
  const isLast = step > 0 && undoSays === says && lastStep() === step
  // biome-ignore lint/correctness/useExhaustiveDependencies: once for each step.
  useEffect(() => {
    if (isLast) button.current?.focus()
  }, [step, isLast])
  if (!isLast) return null
  return (
    <p className="applied">
      <span>Done: {says}.</span>
      <button ref={button} type="button" className="btn" onClick={() => void undo()}>
        Take back
      </button>
    </p>
  )
}

/** Whether there is something to take back: the list stays while there is. */
export const useHasApplied = (): boolean => {
  const { says, step } = useApplied()
  return useHistory(s => s.undoSays === says) && step > 0 && lastStep() === step
}

export const forgetApplied = (): void => useApplied.setState({ says: '', step: 0 })
