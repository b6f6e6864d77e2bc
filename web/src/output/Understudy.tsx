// The second laptop: let one follow, follow one, how the two stand, and who drives the light.

import { isLoopback } from '@glowchart/shared/network/ipv4.ts'
import { nameOf } from '@glowchart/shared/network/reach.ts'
import type { UnderstudyRequest } from '@glowchart/shared/understudy/status.ts'
import { type FormEvent, useState } from 'react'
import { useSession } from '../document/session.ts'
import { askUnderstudy } from '../live/desk.ts'

const ask = (request: UnderstudyRequest): void => void askUnderstudy(request)

export function Understudy() {
  const understudy = useSession(s => s.status?.understudy ?? null)
  if (!understudy) return null
  const { state, says, well, partner, trip, content } = understudy
  return (
    <section className="understudy" aria-label="A second laptop">
      <h3>A second laptop</h3>
      {state === 'off' && (
        <p className="quiet">
          An understudy runs the same show in step, and goes on by itself within a second when this laptop
          dies.
        </p>
      )}
      {says !== '' && (
        <p className={well === 'good' ? '' : 'fault'} role="status">
          {says}
        </p>
      )}
      {partner && (
        <p className="quiet">
          {partner.address}
          {trip !== null && `, ${trip.toFixed(1)} ms there and back`}
          {content !== '' && `, version ${content.slice(0, 8)}`}
        </p>
      )}
      {state === 'off' ? (
        <>
          <Allow />
          <Follow />
        </>
      ) : (
        <div className="row">
          {state === 'open' && <Code />}
          {state === 'leads' && (
            <button type="button" className="btn" onClick={() => ask({ do: 'handOver' })}>
              Hand over to {partner?.name}
            </button>
          )}
          {state === 'follows' && (
            <button type="button" className="btn" onClick={() => ask({ do: 'takeOver' })}>
              Take over now
            </button>
          )}
          {partner && (
            <button type="button" className="btn quiet" onClick={() => ask({ do: 'part' })}>
              Forget {partner.name}
            </button>
          )}
          <button type="button" className="btn quiet" onClick={() => ask({ do: 'allow', on: false })}>
            Close the port
          </button>
        </div>
      )}
    </section>
  )
}

/** Opens the port on one network. */
function Allow() {
  const interfaces = useSession(s => s.network?.interfaces ?? null)
  const outside = (interfaces ?? []).filter(({ address }) => !isLoopback(address))
  return (
    <div className="row">
      {outside.map(one => (
        <button
          key={one.address}
          type="button"
          className="btn"
          onClick={() => ask({ do: 'allow', on: true, via: one.address })}
        >
          Let an understudy follow on {nameOf(one)}, {one.address}
        </button>
      ))}
      {outside.length === 0 && <p className="quiet">Join a network first: both laptops must be on it.</p>}
    </div>
  )
}

function Code() {
  const code = useSession(s => s.pairingCode)
  const until = useSession(s => s.status?.understudy.codeUntil ?? null)
  return until !== null && code ? (
    <p>
      Type this at the second laptop within five minutes: <b className="code">{code}</b>
    </p>
  ) : (
    <button type="button" className="btn" onClick={() => ask({ do: 'code' })}>
      Show a code
    </button>
  )
}

/** Finds a laptop that lets itself be followed, and follows it. */
function Follow() {
  const found = useSession(s => s.status?.understudy.found ?? null)
  const [address, setAddress] = useState('')
  const [code, setCode] = useState('')
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const one = found?.find(laptop => laptop.address === address)
    ask({ do: 'follow', address, code, ...(one && { port: one.port }) })
  }
  if (found === null) {
    return (
      <button type="button" className="btn" onClick={() => ask({ do: 'search', on: true })}>
        Make this laptop an understudy
      </button>
    )
  }
  return (
    <form onSubmit={submit} noValidate>
      <p className="quiet">
        {found.length === 0
          ? 'Looking for the first laptop: let an understudy follow there, or type its address.'
          : 'Choose the first laptop.'}{' '}
        Its show takes the place of the one here with the same name; the earlier version is kept.
      </p>
      {found.map(laptop => (
        <button
          key={laptop.id}
          type="button"
          className="btn"
          aria-pressed={laptop.address === address}
          onClick={() => setAddress(laptop.address)}
        >
          {laptop.name}, {laptop.address}
        </button>
      ))}
      <div className="row">
        <label className="field">
          Its address
          <input value={address} spellCheck={false} onChange={e => setAddress(e.target.value.trim())} />
        </label>
        <label className="field">
          Its code
          <input value={code} spellCheck={false} autoComplete="off" onChange={e => setCode(e.target.value)} />
        </label>
        <button type="submit" className="btn">
          Follow it
        </button>
      </div>
    </form>
  )
}
