// The place to tap the tempo, and to write what was tapped into the song.

import { useSession } from '../document/session.ts'
import { tempoRuler } from './clock-words.ts'
import { tap, useTaps, writeTapped } from './tap.ts'

export function Tap() {
  const bpm = useTaps(s => s.bpm)
  const taps = useTaps(s => s.times.length)
  const playing = useSession(s => s.status?.playing ?? false)
  const why = useSession(s => tempoRuler(s.status?.clock.source))
  const says = bpm !== null ? `Tapped ${bpm.toFixed(1)}` : taps > 0 ? 'Go on' : 'Tap the tempo'
  return (
    <div className="tap">
      <button
        type="button"
        className="btn"
        aria-label="Tap tempo"
        aria-disabled={why !== undefined}
        title={why ?? 'Tap the beat (T)'}
        // A tap counts when it comes down, not when it is let go.
        onPointerDown={e => e.button === 0 && tap()}
        onKeyDown={e => {
          if (e.repeat || (e.key !== ' ' && e.key !== 'Enter')) return
          e.preventDefault()
          tap()
        }}
      >
        {says}
      </button>
      {bpm !== null && !playing && (
        <button
          type="button"
          className="btn quiet"
          aria-label={`Write ${bpm.toFixed(1)} into the song`}
          title="Write it into the song, where the playhead stands"
          onClick={() => void writeTapped()}
        >
          Write it
        </button>
      )}
    </div>
  )
}
