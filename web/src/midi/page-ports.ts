// MIDI through the browser: every input of this computer, its bytes stamped and sent on to the engine.

import { create } from 'zustand'
import { tellMidi } from '../live/desk.ts'
import { engineTime } from '../live/engine-clock.ts'

/** What the browser lets us know; `asked`: the person has not answered yet. */
export type PortsState =
  | { kind: 'off' }
  | { kind: 'asked' }
  | { kind: 'on'; names: readonly string[] }
  | { kind: 'no'; why: string }

/**
 * Belongs to the page, not to the switch that shows it: whatever else comes to stand in the switch's place (the alarm
 * that the clock is lost, for one), the ports stay open until someone lets go of them.
 */
export const usePagePorts = create<PortsState>(() => ({ kind: 'off' }))

let close: (() => void) | null = null

/** Opens the ports, or lets go of them. */
export function switchPagePorts(): void {
  if (close) {
    close()
    close = null
  } else close = openPagePorts(state => usePagePorts.setState(state, true))
}

const listeners = new Set<(bytes: Uint8Array, at: number) => void>()

/** Calls `tell` with what comes in at the ports, and when, in page time. Returns what ends it. */
export function onPortBytes(tell: (bytes: Uint8Array, at: number) => void): () => void {
  listeners.add(tell)
  return () => listeners.delete(tell)
}

function hear(port: string, { timeStamp, data }: MIDIMessageEvent): void {
  const at = engineTime(timeStamp)
  if (data && at !== null) tellMidi(port, at, [...data])
  if (data) for (const tell of listeners) tell(data, timeStamp)
}

/** Asks for the inputs and listens to all of them, also to those plugged in later. Returns what lets go of them. */
function openPagePorts(changed: (state: PortsState) => void): () => void {
  let access: MIDIAccess | null = null
  let closed = false

  const listen = () => {
    if (!access) return
    const inputs = [...access.inputs.values()]
    for (const input of inputs) input.onmidimessage = event => hear(input.name ?? 'MIDI', event)
    changed({ kind: 'on', names: inputs.map(input => input.name ?? 'MIDI') })
  }
  const release = () => {
    closed = true
    changed({ kind: 'off' })
    if (!access) return
    access.onstatechange = null
    for (const input of access.inputs.values()) input.onmidimessage = null
  }

  if (!navigator.requestMIDIAccess) {
    changed({ kind: 'no', why: 'This browser has no MIDI. Chrome, Edge and Firefox have.' })
    return release
  }
  changed({ kind: 'asked' })
  navigator.requestMIDIAccess().then(
    got => {
      if (closed) return
      access = got
      access.onstatechange = listen
      listen()
    },
    (error: Error) => {
      if (!closed) changed({ kind: 'no', why: `MIDI is not allowed here: ${error.message}` })
    },
  )
  return release
}
