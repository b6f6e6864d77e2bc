// Pedals and keys: which one asks for what, learned by pressing it.

import { sameValue } from '@glowchart/shared/show/diff.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { type Action, actionSchema, MASTER_STEP } from '@glowchart/shared/trigger/action.ts'
import { fourButtons, type Input, type Trigger } from '@glowchart/shared/trigger/trigger.ts'
import { useEffect, useState } from 'react'
import { edit } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { Sign } from '../ui/signs.tsx'
import { actionWords, inputWords } from './trigger-words.ts'

/** Which trigger waits to be pressed: its place, or the count of them for a new one. */
type Waiting = number | null

export function Triggers({ show }: { show: Show }) {
  const triggers = show.triggers ?? fourButtons
  const [waiting, setWaiting] = useState<Waiting>(null)
  const set = (next: readonly Trigger[]) => void edit('setTriggers', { triggers: [...next] })
  const learn = (input: Input) => {
    if (waiting === null) return
    const action = triggers[waiting]?.action ?? { do: 'next' }
    set(
      waiting < triggers.length
        ? triggers.with(waiting, { input, action })
        : [...triggers, { input, action }],
    )
    setWaiting(null)
  }
  return (
    <section className="triggers" aria-labelledby="triggers-title">
      <h2 id="triggers-title">Pedals and keys</h2>
      <p>
        They act on the Run page; those on MIDI at a port of this server, and OSC, act without any page. What
        each does next, Run says.
      </p>
      <ul>
        {triggers.map((trigger, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: its place is all that it is known by.
          <li key={i}>
            <button type="button" className="btn" aria-pressed={waiting === i} onClick={() => setWaiting(i)}>
              {waiting === i ? 'Press it now' : inputWords(trigger.input)}
            </button>
            <select
              aria-label={`What ${inputWords(trigger.input)} does`}
              value={JSON.stringify(trigger.action)}
              onChange={event => {
                const action = actionSchema.parse(JSON.parse(event.target.value))
                set(triggers.with(i, { ...trigger, action }))
              }}
            >
              {actionsOf(show, trigger.action).map(action => (
                <option key={JSON.stringify(action)} value={JSON.stringify(action)}>
                  {actionWords(action, show)}
                </option>
              ))}
            </select>
            <button
              type="button"
              className="btn quiet"
              aria-label={`Take ${inputWords(trigger.input)} out`}
              onClick={() => set(triggers.toSpliced(i, 1))}
            >
              <Sign name="cross" />
            </button>
          </li>
        ))}
      </ul>
      <div className="acts">
        <button
          type="button"
          className="btn outline"
          aria-pressed={waiting === triggers.length}
          onClick={() => setWaiting(triggers.length)}
        >
          {waiting === triggers.length ? 'Press it now' : 'Learn another'}
        </button>
        {show.triggers && (
          <button
            type="button"
            className="btn outline"
            onClick={() => void edit('setTriggers', { triggers: null })}
          >
            Back to the four buttons
          </button>
        )}
      </div>
      {waiting !== null && <Listen heard={learn} given={() => setWaiting(null)} />}
    </section>
  )
}

/** Waits for a key or a pedal; Escape gives it up. */
function Listen({ heard, given }: { heard: (input: Input) => void; given: () => void }) {
  const touched = useSession(s => s.touched)
  const [before] = useState(touched)
  useEffect(() => {
    if (touched && touched !== before) heard(touched.input)
  }, [touched, before, heard])
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Tab') return given()
      event.preventDefault()
      event.stopPropagation()
      if (event.key === 'Escape') given()
      else if (!MODIFIERS.has(event.key)) heard({ from: 'key', key: keyName(event.key) })
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [heard, given])
  return (
    <p role="status">
      Press the pedal or the key now; Escape gives it up. A pedal on MIDI, or OSC, is heard by the server.
    </p>
  )
}

const MODIFIERS: ReadonlySet<string> = new Set(['Shift', 'Control', 'Alt', 'Meta'])

const keyName = (key: string): string => (key.length === 1 ? key.toLowerCase() : key)

/** A master that is stepped by a pedal, on or back. */
const stepsOfMaster = (part?: string): Action[] =>
  [MASTER_STEP, -MASTER_STEP].map(by => ({ do: 'master', by, ...(part !== undefined && { part }) }))

/** What can be chosen, with what is chosen. */
function actionsOf(show: Show, chosen: Action): Action[] {
  const all: Action[] = [
    { do: 'next' },
    { do: 'back' },
    { do: 'stop' },
    { do: 'repeat' },
    { do: 'sectionOn' },
    { do: 'sectionBack' },
    { do: 'songOn' },
    { do: 'songBack' },
    { do: 'tapTempo' },
    { do: 'nudgeOn' },
    { do: 'nudgeBack' },
    { do: 'house' },
    { do: 'strobeStop' },
    { do: 'blackout' },
    ...stepsOfMaster(),
    ...show.partOrder.map((part): Action => ({ do: 'bump', part })),
    ...show.partOrder.flatMap(stepsOfMaster),
    ...show.songOrder.map((song): Action => ({ do: 'song', song })),
  ]
  return all.some(action => sameValue(action, chosen)) ? all : [...all, chosen]
}
