// The step on what runs, before it is taken: what would change, what must not be played so, and two ways out.

import { ADVISORY } from '@glowchart/shared/advice/safety.ts'
import type { Checked } from '@glowchart/shared/version/request.ts'
import { useEffect, useRef } from 'react'
import { useSession } from '../document/session.ts'
import { Sign } from '../ui/signs.tsx'
import { ChangeList } from './ChangeList.tsx'
import { useVersion } from './running.ts'
import { leaveStep, mayBeTaken, type Step, stopsIn, takeStep, useStep } from './step.ts'
import { timeOf } from './words.ts'

export function StepDialog() {
  const taking = useStep()
  const { step, checked, despite, problem, busy } = taking
  const running = useVersion(s => s.running)
  const playing = useSession(s => s.status?.playing ?? false)
  const dialog = useRef<HTMLDialogElement>(null)
  const leave = useRef<HTMLButtonElement>(null)
  useEffect(() => {
    if (!step) return dialog.current?.close()
    dialog.current?.showModal()
    // A key that is held down must not take the step that it has opened.
    leave.current?.focus()
  }, [step])
  const stops = checked ? stopsIn(checked) : []
  return (
    <dialog ref={dialog} className="version-step" aria-labelledby="version-step-title" onClose={leaveStep}>
      {step && (
        <>
          <h2 id="version-step-title">{titleOf(step)}</h2>
          <p>
            {step.do === 'end'
              ? 'The draft sounds from the next frame on, with all that is not in the version; from then on every edit sounds at once.'
              : playing
                ? 'The song goes on where it is; the change is made between two frames.'
                : 'The look on the stage may change at once, between two frames.'}
          </p>
          {step.do === 'publish' && checked && <Changes checked={checked} isFirst={running === null} />}
          {step.do === 'publish' && !checked && !problem && <Reading />}
          {stops.length > 0 && (
            <div className="stops" role="alert">
              <b>
                <Sign name="specs" /> Must not be played so
              </b>
              <ul>
                {stops.map(advice => (
                  <li key={advice.says}>
                    {advice.says} <small>{advice.remedy}</small>
                  </li>
                ))}
              </ul>
              <small>{ADVISORY}</small>
              <label className="choice">
                <input
                  type="checkbox"
                  checked={despite}
                  onChange={event => useStep.setState({ despite: event.target.checked })}
                />
                Play it all the same
              </label>
            </div>
          )}
          {problem && (
            <p className="refused" role="alert">
              <Sign name="cross" /> {problem.message}. {problem.remedy}
            </p>
          )}
          <div className="ways">
            <button
              type="button"
              className="btn go"
              aria-disabled={busy || !mayBeTaken(taking)}
              onClick={() => void takeStep()}
            >
              {verbOf(step, running !== null)}
            </button>
            <button ref={leave} type="button" className="btn" onClick={leaveStep}>
              Leave it as it is
            </button>
          </div>
        </>
      )}
    </dialog>
  )
}

/** A long set takes a while the first time; leaving it as it is ends the reading. */
function Reading() {
  const checking = useVersion(s => s.checking)
  return (
    <p role="status">
      Reading the songs for flashes and power{checking ? `: ${checking.read} of ${checking.songs}` : ''}.
    </p>
  )
}

function Changes({ checked, isFirst }: { checked: Checked; isFirst: boolean }) {
  if (checked.changes.length > 0) return <ChangeList changes={checked.changes} />
  return <p>{isFirst ? 'All of the show as it stands now.' : 'Nothing differs from what runs.'}</p>
}

function titleOf(step: Step): string {
  if (step.do === 'publish') return step.what
  if (step.do === 'end') return 'End the show version?'
  return `Put version ${step.version.number} of ${timeOf(step.version)} back?`
}

function verbOf(step: Step, isRunning: boolean): string {
  if (step.do === 'run') return `Play version ${step.version.number}`
  if (step.do === 'end') return 'Rehearse'
  return isRunning ? 'Take it in now' : 'Publish and play it'
}
