// At the top of the side of the chart, on a laptop that follows: why nothing can be edited, and a way back from what is looked at.

import { clearChoice, useChoice } from '../document/choice.ts'
import { useFollowed } from './read-only.ts'
import './read-only.css'

export function ReadOnly() {
  const followed = useFollowed()
  const hasChosen = useChoice(s => s.cues.length > 0 || s.thing !== null)
  if (followed === null) return null
  return (
    <div className="read-only">
      <p>
        <b>Read only.</b> This laptop follows {followed}. Edit there, or take over on <a href="#run">Run</a>.
      </p>
      {hasChosen && (
        <button type="button" className="btn quiet" onClick={clearChoice}>
          Songs
        </button>
      )}
    </div>
  )
}
