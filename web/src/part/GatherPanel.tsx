// The fixtures gathered on the stage, and what to make of them: a new part, or what another part is made of tonight.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { type FormEvent, useState } from 'react'
import { chooseThing } from '../document/choice.ts'
import { edit, editTogether } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import type { Tonight } from '../document/viewed.ts'
import { dropGathered, gatheredOn, toggleGathered, useGathered } from '../stage/gathered.ts'
import { LightButton } from '../stage/LightButton.tsx'
import { Sign } from '../ui/signs.tsx'
import { orderNames, orders } from './order.ts'
import './part.css'

export function GatherPanel({ show, tonight }: { show: Show; tonight: Tonight }) {
  const gathered = useGathered()
  const [name, setName] = useState('')
  const fixtures = gatheredOn(tonight.stage, gathered)
  if (fixtures.length === 0) return null
  const made = { fixtures: fixtures.map(f => f.id), cyclic: gathered.cyclic }
  const done = (part: string) => {
    dropGathered()
    setName('')
    chooseThing('part', part)
  }
  const addPart = (event: FormEvent) => {
    event.preventDefault()
    if (!name.trim()) return
    const part = newId('part')
    void editTogether(`Add the part ${name.trim()}`, [
      ['addPart', { part, name: name.trim() }],
      ['setPartFixtures', { kit: show.tonight, part, ...made }],
    ])
    done(part)
  }
  const setFixtures = (part: string) => {
    void edit('setPartFixtures', { kit: show.tonight, part, ...made })
    done(part)
  }
  return (
    <section className="panel gathered" aria-labelledby="gathered-title">
      <header>
        <h2 id="gathered-title">{fixtures.length === 1 ? 'One fixture' : `${fixtures.length} fixtures`}</h2>
        <button type="button" className="btn quiet" onClick={dropGathered}>
          Drop
        </button>
      </header>
      <ol className="fixture-list" aria-label="Fixtures gathered, in order">
        {fixtures.map((fixture, i) => (
          <li key={fixture.id}>
            <span className="number">{i + 1}</span>
            <span className="name">{fixture.name}</span>
            <LightButton fixture={fixture.id} name={fixture.name} />
            <button
              type="button"
              className="tool"
              aria-label={`Leave out ${fixture.name}`}
              onClick={() => toggleGathered(fixture.id)}
            >
              <Sign name="cross" />
            </button>
          </li>
        ))}
      </ol>
      <div className="row">
        <label className="field">
          Order
          <select
            value={gathered.by}
            onChange={event => {
              const by = orders.find(order => order === event.target.value) ?? 'clicked'
              useGathered.setState({ by, cyclic: by === 'ring' })
            }}
          >
            {orders.map(order => (
              <option key={order} value={order}>
                {orderNames[order]}
              </option>
            ))}
          </select>
        </label>
        <label className="check">
          <input
            type="checkbox"
            checked={gathered.cyclic}
            onChange={event => useGathered.setState({ cyclic: event.target.checked })}
          />
          The last is next to the first
        </label>
      </div>
      <form className="row" onSubmit={addPart}>
        <input
          className="text"
          aria-label="Name of the new part"
          placeholder="Name of a new part"
          maxLength={80}
          value={name}
          onChange={event => setName(event.target.value)}
        />
        <button type="submit" className="btn go" aria-disabled={!name.trim()}>
          New part
        </button>
      </form>
      {show.partOrder.length > 0 && (
        <select
          className="btn wide"
          aria-label="Set as the fixtures of a part"
          value=""
          onChange={event => setFixtures(event.target.value)}
        >
          <option value="" disabled>
            Set as the fixtures of…
          </option>
          {show.partOrder.map(part => (
            <option key={part} value={part}>
              {show.parts[part]?.name}
            </option>
          ))}
        </select>
      )}
    </section>
  )
}
