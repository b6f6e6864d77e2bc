// The fixtures that are owned of a build: serials, tape on their cables, open faults; and how many are added.

import type { Fixture, Rig } from '@glowchart/shared/rig/schema.ts'
import { nextOf } from '@glowchart/shared/rig/spares.ts'
import { type FormEvent, useState } from 'react'
import { edit, editTogether, type Told } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { NameField } from '../../ui/NameField.tsx'
import { Sign } from '../../ui/signs.tsx'
import { Measure } from '../Measure.tsx'

const MOST_AT_ONCE = 64

export function Owned({ rig, build }: { rig: Rig; build: string }) {
  const [count, setCount] = useState(1)
  const owned = Object.entries(rig.fixtures)
    .filter(([, fixture]) => fixture.build === build)
    .sort(([, a], [, b]) => a.serial.localeCompare(b.serial, undefined, { numeric: true }))
  const add = () => {
    let grown = rig
    const told: Told[] = []
    for (let i = 0; i < count; i++) {
      const fixture = newId('fixture')
      const value = nextOf(grown, build)
      grown = { ...grown, fixtures: { ...grown.fixtures, [fixture]: value } }
      told.push(['setFixture', { fixture, value }])
    }
    void editTogether(`Add ${count} of ${rig.builds[build]!.name}`, told)
  }
  return (
    <section className="group" aria-labelledby="owned-title">
      <h3 id="owned-title">
        Owned <small>{owned.length === 0 ? 'none yet' : owned.length}</small>
      </h3>
      <div className="row">
        <Measure
          label="How many more"
          whole
          least={1}
          most={MOST_AT_ONCE}
          value={count}
          onChange={setCount}
        />
        <button type="button" className="btn" onClick={add}>
          Add {count === 1 ? 'a fixture' : `${count} fixtures`}
        </button>
      </div>
      {owned.length > 0 && (
        <ul className="owned">
          {owned.map(([id, fixture]) => (
            <OwnedFixture key={id} id={id} fixture={fixture} />
          ))}
        </ul>
      )}
    </section>
  )
}

function OwnedFixture({ id, fixture }: { id: string; fixture: Fixture }) {
  const [reports, setReports] = useState(false)
  const change = (value: Fixture) => edit('setFixture', { fixture: id, value })
  const open = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const what = String(new FormData(event.currentTarget).get('what') ?? '').trim()
    setReports(false)
    if (what) void edit('openFault', { fixture: id, at: new Date().toISOString(), what })
  }
  return (
    <li>
      <div className="owned-row">
        <NameField
          label={`Name of ${fixture.name}`}
          name={fixture.name}
          onName={name => change({ ...fixture, name })}
        />
        <NameField
          label={`Serial of ${fixture.name}`}
          name={fixture.serial}
          onName={serial => change({ ...fixture, serial: serial.slice(0, 40) })}
        />
        <label className="tape">
          <input
            type="color"
            aria-label={`Tape on the cable of ${fixture.name}`}
            // The picker tells every shade it passes; the one it rests on is kept.
            defaultValue={fixture.tape ?? '#808080'}
            onBlur={event => {
              const tape = event.target.value
              if (tape !== (fixture.tape ?? '#808080')) void change({ ...fixture, tape })
            }}
          />
          {fixture.tape ? 'tape' : 'no tape'}
        </label>
        <button
          type="button"
          className="btn quiet"
          aria-expanded={reports}
          onClick={() => setReports(!reports)}
        >
          Fault<span className="sr"> of {fixture.name}</span>
        </button>
        <button
          type="button"
          className="btn quiet"
          aria-label={`Delete ${fixture.name}`}
          onClick={() => edit('deleteFixture', { fixture: id })}
        >
          <Sign name="cross" />
        </button>
      </div>
      {reports && (
        <form className="owned-row" onSubmit={open}>
          <input
            name="what"
            aria-label={`What is wrong with ${fixture.name}`}
            placeholder="What is wrong with it"
            maxLength={200}
            autoComplete="off"
            // biome-ignore lint/a11y/noAutofocus: it comes because it was asked for.
            autoFocus
          />
          <button type="submit" className="btn">
            Open the fault
          </button>
        </form>
      )}
      {fixture.faults.map(fault => (
        <div key={fault.at} className="owned-row heed">
          <span>
            <Sign name="specs" /> {fault.what} <small>since {fault.at.slice(0, 10)}</small>
          </span>
          <button
            type="button"
            className="btn outline"
            onClick={() => edit('closeFault', { fixture: id, at: fault.at })}
          >
            Mended
            <span className="sr">
              : {fault.what}, {fixture.name}
            </span>
          </button>
        </div>
      ))}
    </li>
  )
}
