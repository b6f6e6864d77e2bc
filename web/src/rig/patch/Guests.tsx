// The guests of tonight: fixtures with an address of their own; added at a free one that is proposed.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useState } from 'react'
import { edit } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { chooseGuest, useRigChoice } from '../choice.ts'
import { GuestPanel } from './GuestPanel.tsx'
import { proposedAddress } from './proposed.ts'

export function Guests({ rig, show }: { rig: Rig; show: Show }) {
  const chosen = useRigChoice(s => s.guest)
  const kit = show.kits[show.tonight]!
  const builds = Object.entries(rig.builds)
  const [build, setBuild] = useState<string | null>(null)
  const made = build !== null && rig.builds[build] ? build : builds[0]?.[0]
  const place = made === undefined ? null : proposedAddress(rig, kit, made)
  const add = () => {
    if (made === undefined || !place) return
    const guest = newId('guest')
    const count = Object.keys(kit.guests).length + 1
    const name = `${rig.builds[made]!.name} (guest ${count})`.slice(0, 80)
    const value = { name, build: made, ...place, place: { x: 0, y: kit.stage.depth / 2, z: 0 } }
    void edit('setGuest', { kit: show.tonight, guest, value })
    chooseGuest(guest)
  }
  return (
    <section className="guests" aria-labelledby="guests-title">
      <h3 id="guests-title">Guests</h3>
      <p>Rented fixtures with an address of their own, on no box.</p>
      <ul>
        {Object.entries(kit.guests).map(([id, guest]) => (
          <li key={id}>
            <button
              type="button"
              className="guest"
              aria-expanded={id === chosen}
              onClick={() => (id === chosen ? useRigChoice.setState({ guest: null }) : chooseGuest(id))}
            >
              <b>{guest.name}</b> universe {guest.universe}, {guest.address}
            </button>
            {id === chosen && <GuestPanel {...{ rig, show, id, guest }} />}
          </li>
        ))}
      </ul>
      {builds.length > 0 && (
        <div className="row">
          <label className="field">
            Build
            <select value={made} onChange={event => setBuild(event.target.value)}>
              {builds.map(([id, { name }]) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <button type="button" className="btn" aria-disabled={!place} onClick={add}>
            {place ? `Add a guest at ${place.universe}/${place.address}` : 'It needs more than a universe'}
          </button>
        </div>
      )}
    </section>
  )
}
