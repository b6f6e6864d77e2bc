// The chart's foot: what edges snap to, and beside the score what a key did, why an edit was refused, or what plays.

import { useEffect } from 'react'
import { type Snap, snaps, usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { PlaysNote } from '../version/PlaysNote.tsx'
import { clearFoot, tell, useFoot } from './foot.ts'
import { type Grid, gridWords } from './snap.ts'

export function Foot({ grid, viewed }: { grid: Grid; viewed: ViewedSong }) {
  const note = useFoot(s => s.note)
  const problem = useSession(s => s.problem)
  const snap = usePreferences(s => s.snap)
  // Until the next press, before it does anything.
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!['Shift', 'Control', 'Alt', 'Meta', 'Tab'].includes(event.key)) clearFoot()
    }
    window.addEventListener('keydown', onKey, true)
    window.addEventListener('pointerdown', clearFoot, true)
    return () => {
      window.removeEventListener('keydown', onKey, true)
      window.removeEventListener('pointerdown', clearFoot, true)
    }
  }, [])
  return (
    <div className="chart-foot">
      {problem ? (
        <p className="refused">
          <b>Not done: {problem.message}.</b> {problem.remedy}
        </p>
      ) : (
        <p>{note || <PlaysNote viewed={viewed} />}</p>
      )}
      <label className="snap">
        <span>Snap</span>
        <select
          value={snap}
          onChange={event => usePreferences.setState({ snap: event.target.value as Snap })}
          title="What edges snap to (G); Ctrl lifts it while you drag"
        >
          {snaps.map(key => (
            <option key={key} value={key}>
              {key === 'zoom' ? (snap === 'zoom' ? `by zoom: ${gridWords(grid)}` : 'by zoom') : key}
            </option>
          ))}
        </select>
      </label>
    </div>
  )
}

/** The next thing to snap to. */
export function stepSnap(): void {
  const { snap } = usePreferences.getState()
  const next = snaps[(snaps.indexOf(snap) + 1) % snaps.length]!
  usePreferences.setState({ snap: next })
  tell(next === 'off' ? 'Snap is off.' : `Snap: ${next === 'zoom' ? 'by zoom' : next}.`)
}
