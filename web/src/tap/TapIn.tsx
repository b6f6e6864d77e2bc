// The panel of tapping in: what is armed, how many taps there are, and what keeps or drops them.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import './tap.css'
import { armTarget, dropTaps, keepTaps, tapDown, tapUp, useTapping } from './tapping.ts'
import type { Target } from './taps.ts'

const MOST_LATENCY = 500

export function TapIn({ show, armed }: { show: Show; armed: Target }) {
  const count = useTapping(s => s.taps.length)
  const latency = usePreferences(s => s.tapLatency)
  return (
    <section className="tap-in" aria-label="Tap in">
      <h2>Tap in</h2>
      <p className="state" role="status">
        <CountIn /> {count === 1 ? '1 tap' : `${count} taps`}
      </p>
      <label className="field">
        On
        <select
          value={`${armed.kind} ${armed.id}`}
          onChange={event => {
            const [kind, id] = event.target.value.split(' ') as [Target['kind'], string]
            armTarget({ kind, id })
            event.target.blur()
          }}
        >
          {show.partOrder.map(id => (
            <option key={id} value={`part ${id}`}>
              {show.parts[id]!.name}
            </option>
          ))}
          {Object.entries(show.looks).map(([id, { name }]) => (
            <option key={id} value={`look ${id}`}>
              {name}, a look
            </option>
          ))}
        </select>
      </label>
      <button
        type="button"
        className="btn pad"
        onPointerDown={event => {
          event.currentTarget.setPointerCapture(event.pointerId)
          tapDown('pad', event.timeStamp)
        }}
        onPointerUp={event => tapUp('pad', event.timeStamp)}
        onPointerCancel={event => tapUp('pad', event.timeStamp)}
      >
        Tap here, or the key T
      </button>
      <label className="field">
        Taps come late by, ms
        <input
          type="number"
          min={0}
          max={MOST_LATENCY}
          value={latency}
          onWheel={event => event.currentTarget.blur()}
          // Back to the page, so that the keys tap again.
          onKeyDown={event => event.key === 'Enter' && event.currentTarget.blur()}
          onChange={event =>
            usePreferences.setState({
              tapLatency: Math.min(MOST_LATENCY, Math.max(0, Math.round(Number(event.target.value)))),
            })
          }
        />
      </label>
      <p className="quiet">
        Keys 1 to 9 tap on the parts from the top; notes and the pedal at a MIDI port of this computer tap
        too, once it is in use.
      </p>
      <div className="acts">
        <button type="button" className="btn go" onClick={keepTaps}>
          Keep (Enter)
        </button>
        <button type="button" className="btn quiet" onClick={dropTaps}>
          Drop (Esc)
        </button>
      </div>
    </section>
  )
}

/** "Starts in 3": the beats until the song moves. */
function CountIn() {
  const says = useSession(({ status }) => {
    if (!status) return ''
    if (status.starts === null) return status.playing ? 'Listening.' : 'The song stands still.'
    return `Starts in ${Math.max(1, Math.ceil(((status.starts - status.at) / 60_000) * status.bpm))}.`
  })
  return <>{says}</>
}
