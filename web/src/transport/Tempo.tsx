// The tempo that sounds, and on our own clock a faster or slower one than written.

import { useSession } from '../document/session.ts'
import { press } from '../live/desk.ts'
import { Sign } from '../ui/signs.tsx'
import { differs, tempoRuler } from './clock-words.ts'

/** One press: a beat a minute. */
const STEP = 1

/** @param written the tempo at this place of the song; @param loaded whether the engine has this song */
export function Tempo({ written, loaded }: { written: number; loaded: boolean }) {
  const status = useSession(s => s.status)
  const bpm = (loaded && status?.bpm) || written * (status?.speed ?? 1)
  const speed = status?.speed ?? 1
  const own = status?.clock.source === 'internal'
  const change = (by: number) => {
    const plain = bpm / speed
    const factor = Math.min(4, Math.max(0.25, (Math.round(bpm) + by) / plain))
    press({ do: 'speed', factor: Math.abs(factor - 1) < 0.002 ? 1 : factor })
  }
  const why = tempoRuler(status?.clock.source)
  return (
    <div className="read tempo">
      <span>Tempo{differs(bpm, speed) && `, written ${(bpm / speed).toFixed(0)}`}</span>
      <b>
        <button
          type="button"
          className="nudge"
          aria-label="Slower"
          aria-disabled={!own}
          title={why}
          onClick={() => own && change(-STEP)}
        >
          <Sign name="dash" />
        </button>
        {!own || speed === 1 ? (
          <span className="value">{bpm.toFixed(1)}</span>
        ) : (
          <button
            type="button"
            className="value"
            title="As written"
            aria-label={`Tempo ${bpm.toFixed(1)}; back to as written`}
            onClick={() => press({ do: 'speed', factor: 1 })}
          >
            {bpm.toFixed(1)}
          </button>
        )}
        <button
          type="button"
          className="nudge"
          aria-label="Faster"
          aria-disabled={!own}
          title={why}
          onClick={() => own && change(STEP)}
        >
          <Sign name="plus" />
        </button>
      </b>
    </div>
  )
}
