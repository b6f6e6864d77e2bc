// After a restart: where the show was left, and one press that brings it back. It stands over every place until answered.

import { leastRole } from '@glowchart/shared/access/least-role.ts'
import { isAtLeast } from '@glowchart/shared/access/role.ts'
import { leftText, type Offer } from '@glowchart/shared/recovery/kept.ts'
import { useEffect, useState } from 'react'
import { createPortal } from 'react-dom'
import { say, useSession } from '../document/session.ts'
import { recover } from '../live/desk.ts'
import './left-off.css'

export function LeftOff() {
  const offer = useSession(s => s.offer)
  const role = useSession(s => s.role)
  const host = document.getElementById('left-off')
  if (!offer || !host || !isAtLeast(role, leastRole.recover)) return null
  return createPortal(<Banner offer={offer} />, host)
}

function Banner({ offer }: { offer: Offer }) {
  const [waits, setWaits] = useState(false)
  const text = leftText(offer, useNow())
  const { kept } = offer
  // biome-ignore lint/correctness/useExhaustiveDependencies: it is said once, and not each minute.
  useEffect(() => say(`${text} Go on, or start fresh.`), [])
  const press = async (answer: 'goOn' | 'fresh') => {
    setWaits(true)
    await recover(answer)
    setWaits(false)
  }
  return (
    <section className="left-off" aria-label="Where the show was left">
      <div>
        <p>
          <b>{text}</b>
        </p>
        <p>{whatComes(offer)}</p>
        {offer.gone.length > 0 && (
          <p className="heed">
            This computer does not have the address {offer.gone.join(', ')} now, which light was sent from:
            plug that adapter in, or choose another under Output.
          </p>
        )}
        {offer.otherVersion && <p>Another version of the show runs now; it stays.</p>}
        {offer.otherKit && <p>Another kit than {kept.kit.name} is chosen by now; it stays.</p>}
      </div>
      <div className="acts">
        <button
          type="button"
          className="btn go"
          aria-disabled={waits}
          onClick={() => !waits && press('goOn')}
        >
          Go on
        </button>
        <button
          type="button"
          className="btn outline"
          aria-disabled={waits}
          onClick={() => !waits && press('fresh')}
        >
          Start fresh
        </button>
      </div>
    </section>
  )
}

/** What one press will do, and what it will not. */
function whatComes({ kept, otherShow }: Offer): string {
  const hosts = [...new Set(kept.output.routes.map(route => route.to.host))]
  const sends = hosts.length === 0 ? 'the output stays off' : `light goes to ${hosts.join(', ')} again`
  const show = otherShow ? `${kept.show.name} is opened, ` : ''
  return `Going on: ${show}it stands there, stopped, and ${sends}. Play is a second press. Until then nothing is sent.`
}

/** Ms since 1970, brought up to date each half minute. */
function useNow(): number {
  const [now, setNow] = useState(Date.now)
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 30_000)
    return () => clearInterval(timer)
  }, [])
  return now
}
