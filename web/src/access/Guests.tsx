// Who has joined, and what each may do: given with one press, and taken back with one.

import type { GuestEntry } from '@glowchart/shared/access/access.ts'
import { type GuestRole, guestRoles } from '@glowchart/shared/access/role.ts'
import { wishAccess } from '../live/desk.ts'

const names: Record<GuestRole, string> = {
  viewer: 'Looks on',
  checker: 'Line check too',
  controller: 'Has the controls',
}

export function Guests({ guests }: { guests: readonly GuestEntry[] }) {
  return (
    <section aria-labelledby="guests-title">
      <h2 id="guests-title">Who is there</h2>
      {guests.length === 0 && <p className="quiet">Nobody has joined yet.</p>}
      <ul className="guests">
        {guests.map(({ id, name, role, address, pages }) => (
          <li key={id}>
            <p>
              <b>{name}</b>
              <small>
                {pages === 0 ? 'not connected' : pages === 1 ? 'connected' : `${pages} pages`}, {address}
              </small>
            </p>
            <fieldset>
              <legend className="sr">What {name} may do</legend>
              {guestRoles.map(one => (
                <button
                  key={one}
                  type="button"
                  className="btn"
                  aria-pressed={one === role}
                  onClick={() => wishAccess({ do: 'role', guest: id, role: one })}
                >
                  {names[one]}
                </button>
              ))}
            </fieldset>
            <button
              type="button"
              className="btn quiet"
              aria-label={`Send ${name} off`}
              onClick={() => wishAccess({ do: 'dismiss', guest: id })}
            >
              Send off
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
