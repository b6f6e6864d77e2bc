// The second laptop: let one follow, follow one, how the two stand, and who drives the light.

import { isLoopback } from '@glowchart/shared/network/ipv4.ts'
import { nameOf } from '@glowchart/shared/network/reach.ts'
import type { UnderstudyRequest, UnderstudyStatus } from '@glowchart/shared/understudy/status.ts'
import { useEffect, useRef, useState } from 'react'
import { useSession } from '../document/session.ts'
import { askUnderstudy } from '../live/desk.ts'
import { FollowFirst } from './FollowFirst.tsx'
import { ofUnderstudy } from './understudy-words.ts'

const ask = (request: UnderstudyRequest): void => void askUnderstudy(request)

export function Understudy() {
  const understudy = useSession(s => s.status?.understudy ?? null)
  const fault = useSession(s => ofUnderstudy(s.problem))
  const [isForgetting, setForgetting] = useState(false)
  const state = understudy?.state
  const section = useKeptFocus(`${state} ${isForgetting} ${understudy?.codeUntil != null}`)
  if (!understudy) return null
  const { says, well, partner } = understudy
  const forget = async () => {
    setForgetting(false)
    await askUnderstudy({ do: 'part' })
    ask({ do: 'allow', on: false })
  }
  return (
    <section className="understudy" aria-label="A second laptop" ref={section}>
      <h3 tabIndex={-1}>A second laptop</h3>
      {state === 'off' && (
        <p className="quiet">
          An understudy runs the same show in step, and goes on by itself within a second when the first
          laptop dies.
        </p>
      )}
      <p className={well === 'good' ? '' : 'fault'} role="status">
        {says}
      </p>
      {partner && <Partner {...understudy} />}
      {state === 'off' && (
        <>
          <Allow />
          <FollowFirst />
        </>
      )}
      {state === 'open' && (
        <>
          <Code />
          <button type="button" className="btn quiet" onClick={() => ask({ do: 'allow', on: false })}>
            Let nobody follow
          </button>
        </>
      )}
      {partner && !isForgetting && (
        <div className="row">
          {state === 'leads' && partner.ready && isHeard(understudy) && (
            <button type="button" className="btn" onClick={() => ask({ do: 'handOver' })}>
              Hand over to {partner.name}
            </button>
          )}
          {state === 'follows' && (
            <button type="button" className="btn" onClick={() => ask({ do: 'takeOver' })}>
              Take over now
            </button>
          )}
          <button type="button" className="btn quiet" onClick={() => setForgetting(true)}>
            Forget {partner.name}…
          </button>
        </div>
      )}
      {partner && isForgetting && (
        <>
          <p>
            {state === 'follows' ? 'This laptop then follows nobody.' : 'This laptop then has no understudy.'}{' '}
            To pair again takes a new code.
          </p>
          <div className="row">
            <button type="button" className="btn" onClick={() => void forget()}>
              Forget {partner.name}
            </button>
            <button type="button" className="btn quiet" onClick={() => setForgetting(false)}>
              Keep it
            </button>
          </div>
        </>
      )}
      {fault !== '' && state !== 'off' && (
        <p className="fault" role="alert">
          {fault}
        </p>
      )}
    </section>
  )
}

/** Silent for longer, the partner cannot be handed anything, ms; as in the line that says how the pair stands. */
const MISSING = 1000

const isHeard = ({ partner }: UnderstudyStatus): boolean =>
  partner !== null && partner.heard !== null && partner.heard <= MISSING

function Partner(understudy: UnderstudyStatus) {
  const { partner, trip, content } = understudy
  return (
    <p className="quiet">
      {partner?.address}
      {isHeard(understudy) && trip !== null && `, ${trip.toFixed(1)} ms there and back`}
      {content !== '' && `, version ${content.slice(0, 8)}`}
    </p>
  )
}

/** What was pressed goes with what it has changed: the keyboard then goes on from the section, not from the page's top. */
function useKeptFocus(key: string): React.RefObject<HTMLElement | null> {
  const section = useRef<HTMLElement>(null)
  const within = useRef(false)
  useEffect(() => {
    const moved = (event: FocusEvent): void => {
      within.current = section.current?.contains(event.target as Node) ?? false
    }
    document.addEventListener('focusin', moved)
    return () => document.removeEventListener('focusin', moved)
  }, [])
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says that other buttons stand there.
  useEffect(() => {
    if (within.current && document.activeElement === document.body)
      section.current?.querySelector('h3')?.focus({ preventScroll: true })
  }, [key])
  return section
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
      {interfaces && outside.length === 0 && (
        <p className="quiet">Join a network first: both laptops must be on it.</p>
      )}
    </div>
  )
}

function Code() {
  const code = useSession(s => s.pairingCode)
  const { codeUntil = null, via = null } = useSession(s => s.status?.understudy) ?? {}
  return codeUntil !== null && code ? (
    <p role="status">
      On the second laptop choose Output, <i>Make this laptop an understudy</i>, {via}, and type within five
      minutes:
      <b className="code">{code}</b>
    </p>
  ) : (
    <div className="row">
      <p className="quiet">No code counts now.</p>
      <button type="button" className="btn" onClick={() => ask({ do: 'code' })}>
        Show a code
      </button>
    </div>
  )
}
