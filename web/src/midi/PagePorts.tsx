// A switch: take MIDI from the ports of the computer that shows this page.

import { type PortsState, switchPagePorts, usePagePorts } from './page-ports.ts'

export function PagePorts() {
  const state = usePagePorts()
  return (
    <div className="read page-ports">
      <span>MIDI here</span>
      <button
        type="button"
        className="btn quiet"
        aria-pressed={state.kind !== 'off'}
        onClick={switchPagePorts}
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
