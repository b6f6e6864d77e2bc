// MIDI through the browser: every input of this computer, its bytes stamped and sent on to the engine.

/** What the browser lets us know; `asked`: the person has not answered yet. */
export type PortsState =
  | { kind: 'off' }
  | { kind: 'asked' }
  | { kind: 'on'; names: readonly string[] }
  | { kind: 'no'; why: string }

export interface PagePortsOptions {
  changed(state: PortsState): void
  /** @param at ms of the page's clock (`performance.now`) at which the bytes came in */
  heard(port: string, at: number, bytes: number[]): void
}

/** Asks for the inputs and listens to all of them, also to those plugged in later. Returns what lets go of them. */
export function openPagePorts({ changed, heard }: PagePortsOptions): () => void {
  let access: MIDIAccess | null = null
  let closed = false

  const listen = () => {
    if (!access) return
    const inputs = [...access.inputs.values()]
    for (const input of inputs) {
      input.onmidimessage = event => {
        if (event.data) heard(input.name ?? 'MIDI', event.timeStamp, [...event.data])
      }
    }
    changed({ kind: 'on', names: inputs.map(input => input.name ?? 'MIDI') })
  }
  const release = () => {
    if (!access) return
    access.onstatechange = null
    for (const input of access.inputs.values()) input.onmidimessage = null
  }

  if (!navigator.requestMIDIAccess) {
    changed({ kind: 'no', why: 'This browser has no MIDI. Chrome, Edge and Firefox have.' })
    return () => {}
  }
  changed({ kind: 'asked' })
  navigator.requestMIDIAccess().then(
    got => {
      if (closed) return
      access = got
      access.onstatechange = listen
      listen()
    },
    (error: Error) => changed({ kind: 'no', why: `MIDI is not allowed here: ${error.message}` }),
  )
  return () => {
    closed = true
    release()
    changed({ kind: 'off' })
  }
}
