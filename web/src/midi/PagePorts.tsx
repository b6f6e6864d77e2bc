// A switch: take MIDI from the ports of the computer that shows this page.

import { useEffect, useState } from 'react'
import { tellMidi } from '../live/desk.ts'
import { engineTime } from '../live/engine-clock.ts'
import { openPagePorts, type PortsState } from './page-ports.ts'

/** Stays open while it is not shown: a status that is missed for a moment must not let go of the ports. */
export function PagePorts({ shown }: { shown: boolean }) {
  const [on, setOn] = useState(false)
  const [state, setState] = useState<PortsState>({ kind: 'off' })
  useEffect(() => {
    if (!on) return
    return openPagePorts({
      changed: setState,
      heard: (port, at, bytes) => {
        const there = engineTime(at)
        if (there !== null) tellMidi(port, there, bytes)
      },
    })
  }, [on])
  if (!shown) return null
  return (
    <div className="read">
      <span>MIDI here</span>
      <button
        type="button"
        className="btn quiet"
        aria-pressed={on}
        onClick={() => setOn(!on)}
        title={title(state)}
      >
        {saying(state)}
      </button>
    </div>
  )
}

function saying(state: PortsState): string {
  switch (state.kind) {
    case 'off':
      return 'Use this computer'
    case 'asked':
      return 'Waiting for leave'
    case 'on':
      return state.names.length === 0 ? 'No port plugged in' : state.names.join(', ')
    case 'no':
      return 'Not available'
  }
}

const title = (state: PortsState): string =>
  state.kind === 'no' ? state.why : 'Takes MIDI clock from the ports of the computer that shows this page'
