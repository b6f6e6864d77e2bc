// One guest opened: its name, build, universe and address, where it stands, its parts, and the way out.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Guest, Show } from '@glowchart/shared/show/schema.ts'
import { edit, editTogether } from '../../document/editing.ts'
import { Figure } from '../../ui/Figure.tsx'
import { NameField } from '../../ui/NameField.tsx'
import { PartChoice } from '../boxes/PartChoice.tsx'
import { PlaceFigures } from '../boxes/PlaceFigures.tsx'
import { proposedAddress } from './proposed.ts'

interface Props {
  rig: Rig
  show: Show
  id: string
  guest: Guest
}

const whole = (least: number, most: number) => {
  const held = (n: number) => Math.min(most, Math.max(least, Math.round(n)))
  return {
    first: least,
    text: String,
    number: (n: number) => n,
    parse: (text: string) => {
      const n = Number.parseInt(text, 10)
      return Number.isFinite(n) ? held(n) : null
    },
    step: (n: number, by: number) => held(n + by),
  }
}

export function GuestPanel({ rig, show, id, guest }: Props) {
  const kit = show.tonight
  const set = (says: string, change: Partial<Guest>) =>
    editTogether(says, [['setGuest', { kit, guest: id, value: { ...guest, ...change } }]])
  const free = proposedAddress(rig, show.kits[kit]!, guest.build, id)
  const isFree = free?.universe === guest.universe && free.address === guest.address
  return (
    <div className="socket-panel">
      <NameField
        label="Name of the guest"
        name={guest.name}
        onName={name => set(`Rename ${guest.name}`, { name })}
      />
      <label className="field">
        Build
        <select
          value={guest.build}
          onChange={event => set(`Build of ${guest.name}`, { build: event.target.value })}
        >
          {Object.entries(rig.builds).map(([build, { name }]) => (
            <option key={build} value={build}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <div className="figures">
        <Figure
          {...whole(1, 63999)}
          label={`Universe of ${guest.name}`}
          short="Universe"
          value={guest.universe}
          onChange={universe => set(`Universe of ${guest.name}`, { universe })}
        />
        <Figure
          {...whole(1, 512)}
          label={`Address of ${guest.name}`}
          short="Address"
          value={guest.address}
          onChange={address => set(`Address of ${guest.name}`, { address })}
        />
        <PlaceFigures
          name={guest.name}
          place={guest.place}
          turn={guest.turn}
          stage={show.kits[kit]!.stage}
          onPlace={place => set(`Move ${guest.name}`, { place })}
          onTurn={turn => set(`Turn ${guest.name}`, { turn })}
        />
      </div>
      <PartChoice show={show} fixture={id} name={guest.name} />
      <div className="row">
        {free && !isFree && (
          <button type="button" className="btn" onClick={() => set(`Address of ${guest.name}`, free)}>
            Free: {free.universe}/{free.address}
          </button>
        )}
        <button type="button" className="btn quiet" onClick={() => edit('removeGuest', { kit, guest: id })}>
          Remove the guest
        </button>
      </div>
    </div>
  )
}
