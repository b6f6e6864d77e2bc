// The changeover's steps in walking order, each to be ticked, with the minutes it is set to.

import { changeoverSteps } from '@glowchart/shared/check/changeover.ts'
import type { Group } from '@glowchart/shared/check/stations.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { resetChangeover, setMinutes, toggleStep, useChangeover } from './countdown.ts'

interface Props {
  rig: Rig
  groups: readonly Group[]
  onClose: () => void
}

export function ChangeoverList({ rig, groups, onClose }: Props) {
  const { countdown, done } = useChangeover()
  const minutes = countdown.of / 60_000
  return (
    <>
      <h2>Changeover</h2>
      <div className="minutes">
        <span id="minutes">Minutes</span>
        <button
          type="button"
          className="btn"
          aria-label="A minute less"
          onClick={() => setMinutes(Math.max(1, minutes - 1))}
        >
          −
        </button>
        <b aria-labelledby="minutes" role="status">
          {minutes}
        </b>
        <button
          type="button"
          className="btn"
          aria-label="A minute more"
          onClick={() => setMinutes(Math.min(60, minutes + 1))}
        >
          +
        </button>
        <button type="button" className="btn quiet" onClick={resetChangeover}>
          Begin again
        </button>
      </div>
      <ol className="steps">
        {changeoverSteps(rig, groups).map(({ id, says, note }) => (
          <li key={id}>
            <label>
              <input type="checkbox" checked={done.includes(id)} onChange={() => toggleStep(id)} />
              <span>
                <b>{says}</b>
                {note && <small>{note}</small>}
              </span>
            </label>
          </li>
        ))}
      </ol>
      <button type="button" className="btn go wide" onClick={onClose}>
        To the line check
      </button>
    </>
  )
}
