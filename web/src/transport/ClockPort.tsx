// Which MIDI ports of the server the clock comes from, where several speak, and which one gets ours.

import type { MidiStatus } from '@glowchart/shared/messages.ts'
import { useSession } from '../document/session.ts'
import { chooseMidi } from '../live/desk.ts'

/** Shown where there is something to choose: several ports have spoken, or one was chosen. */
export function ClockPort() {
  const midi = useSession(s => s.status?.midi)
  const follows = useSession(s => s.status !== null && s.status.clock.source !== 'internal')
  if (!midi || !follows) return null
  const { choice, speaking, clockPort } = midi
  if (choice.clockFrom === null && speaking.length < 2) return null
  return (
    <label className="gig-choice">
      <span>Clock from</span>
      <select
        value={choice.clockFrom ?? ''}
        title="One port is listened to, so that two clocks never mix"
        onChange={e => void chooseMidi({ ...choice, clockFrom: e.target.value || null })}
      >
        <option value="">{clockPort === null ? 'The first that speaks' : `The first: ${clockPort}`}</option>
        {portsOf(midi).map(port => (
          <option key={port} value={port}>
            {port}
          </option>
        ))}
      </select>
    </label>
  )
}

/** The ports that are there, have spoken, or are chosen. */
const portsOf = ({ ports, speaking, choice }: MidiStatus): string[] => [
  ...new Set([...ports, ...speaking, ...(choice.clockFrom === null ? [] : [choice.clockFrom])]),
]

/** MIDI clock out of the server, for whoever plays with us. */
export function ClockOut() {
  const midi = useSession(s => s.status?.midi)
  if (!midi) return null
  const { choice, outputs, available, says } = midi
  const isGone = choice.clockTo !== null && !outputs.includes(choice.clockTo)
  return (
    <label className="gig-choice">
      <span>MIDI clock to</span>
      <select
        value={choice.clockTo ?? ''}
        disabled={!available && choice.clockTo === null}
        onChange={e => void chooseMidi({ ...choice, clockTo: e.target.value || null })}
      >
        <option value="">Nobody</option>
        {[...outputs, ...(isGone ? [choice.clockTo!] : [])].map(port => (
          <option key={port} value={port}>
            {port}
          </option>
        ))}
      </select>
      {!available && <small>{says}</small>}
      {isGone && <small>It is not plugged in; it gets the clock once it is.</small>}
    </label>
  )
}
