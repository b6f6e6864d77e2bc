// Others on the network, on the laptop's own page: let in or not, by which address and PIN, who is there, who has the controls.

import type { AccessState } from '@glowchart/shared/access/access.ts'
import { isSelfAssigned, linkOf } from '@glowchart/shared/network/ipv4.ts'
import { useSession } from '../document/session.ts'
import { Head } from '../Head.tsx'
import { wishAccess } from '../live/desk.ts'
import { Guests } from './Guests.tsx'
import { QrCode } from './QrCode.tsx'
import './access.css'

export default function PhonesPage() {
  const access = useSession(s => s.access)
  const problem = useSession(s => s.problem)
  return (
    <div className="phones-page">
      <Head />
      <h1>Phones</h1>
      {problem && (
        <p className="fault" role="alert">
          {problem.message}. {problem.remedy}
        </p>
      )}
      {access?.unsaved && (
        <p className="fault" role="alert">
          This holds until the next start only: {access.unsaved}.
        </p>
      )}
      {!access ? (
        <p>Waiting for Glowchart to answer.</p>
      ) : access.open ? (
        <Open access={access} />
      ) : (
        <Closed access={access} />
      )}
    </div>
  )
}

function Closed({ access: { interfaces } }: { access: AccessState }) {
  return (
    <section aria-labelledby="closed-title">
      <h2 id="closed-title">Only this laptop can open Glowchart</h2>
      <p>
        Let phones and other computers look on: the countdown, the song and the stage. They join with a PIN,
        and have no control until you give it.
      </p>
      {interfaces.length === 0 ? (
        <p className="quiet">This laptop is on no network now. Join a Wi-Fi, or plug in a cable.</p>
      ) : (
        <ul className="ways-in">
          {interfaces.map(({ name, address }) => (
            <li key={`${name} ${address}`}>
              <button type="button" className="btn go" onClick={() => wishAccess({ do: 'open', address })}>
                Let phones in at {address}
              </button>
              <small>
                {linkOf(name) ?? name}
                {isSelfAssigned(address) && ', an address that this laptop gave itself'}
              </small>
            </li>
          ))}
        </ul>
      )}
      <Caution />
    </section>
  )
}

function Open({ access }: { access: AccessState }) {
  const { open, pin, interfaces, guests } = access
  if (!open) return null
  const isGone = !interfaces.some(({ address }) => address === open.address)
  return (
    <>
      <section className="way-in" aria-labelledby="open-title">
        <div>
          <h2 id="open-title">Open on the phone</h2>
          <p className="address">{open.url.replace('http://', '')}</p>
          <p className="label">PIN</p>
          {pin ? (
            <p className="pin">
              {pin.slice(0, 4)} {pin.slice(4)}
            </p>
          ) : (
            <p className="quiet">
              The same as before this laptop was last started; it is not kept in words. Who had joined is
              still in.
            </p>
          )}
          {open.says !== '' && (
            <p className="fault" role="alert">
              Nobody can come in: {open.says}. It is tried again every few seconds.
            </p>
          )}
          {open.says === '' && isGone && !open.address.startsWith('127.') && (
            <p className="fault" role="alert">
              This laptop does not have that address any more. Close, and open at the one it has now.
            </p>
          )}
          <p className="acts">
            <button type="button" className="btn" onClick={() => wishAccess({ do: 'pin' })}>
              New PIN
            </button>
            <button type="button" className="btn" onClick={() => wishAccess({ do: 'close' })}>
              Close to all
            </button>
            {guests.length > 0 && <small>Either sends everybody off.</small>}
          </p>
        </div>
        {pin && <QrCode text={`${open.url}/#join=${pin}`} />}
      </section>
      <Guests guests={guests} />
      <Caution />
    </>
  )
}

function Caution() {
  return (
    <p className="quiet">
      What goes over the network is not encrypted: whoever runs or taps it can read along, and act as a phone
      that has the controls. Use a network of the band’s own, with a password, and give the controls to few.
    </p>
  )
}
