// The head of the run page: time of day, and how clock and ways out are.

import { isAtLeast, type Role } from '@glowchart/shared/access/role.ts'
import { changeCount } from '@glowchart/shared/version/changes.ts'
import { useEffect, useState } from 'react'
import { AccessCell } from '../access/AccessCell.tsx'
import { useSession } from '../document/session.ts'
import { releaseHouse } from '../live/desk.ts'
import { mayOpen, places } from '../places.ts'
import { Sign } from '../ui/signs.tsx'
import { usePending, usePlayed, useVersion } from '../version/running.ts'
import { useAwake } from './awake.ts'
import { useBattery } from './battery.ts'
import { HoldButton } from './HoldButton.tsx'
import { type Cell, healthOf, versionCell } from './health.ts'
import { holds } from './held.ts'

export function Health() {
  const status = useSession(s => s.status)
  const role = useSession(s => s.role)
  const nodes = useSession(s => s.network?.nodes ?? null)
  const running = useVersion(s => s.running?.number ?? null)
  const pending = changeCount(usePending())
  const played = usePlayed()?.show
  const venue = played?.kits[played.tonight]?.venue
  const cells = healthOf(status, nodes, venue, useBattery(), useAwake(), useSkippedLately())
  if (running !== null) cells.push(versionCell(running, pending))
  return (
    <header className="health">
      <Now />
      <nav aria-label="Places">
        {[{ id: 'chart', name: 'Chart' }, ...places]
          .filter(({ id }) => fromHere(role).includes(id) && mayOpen(role, id))
          .map(({ id, name }) => (
            <a key={id} href={`#${id}`}>
              {name}
            </a>
          ))}
      </nav>
      <AccessCell />
      {cells.map(cell =>
        cell.id === 'house' ? (
          <HouseCell key={cell.id} cell={cell} />
        ) : (
          <PlainCell key={cell.id} cell={cell} />
        ),
      )}
    </header>
  )
}

/** Places that are a press away during the show. */
const fromHere = (role: Role): readonly string[] => (role === 'checker' ? ['check'] : ['chart', 'setlist'])

function PlainCell({ cell }: { cell: Cell }) {
  return (
    <span className={`cell ${cell.well}`}>
      <Words cell={cell} />
    </span>
  )
}

function Words({ cell: { well, says, figure } }: { cell: Cell }) {
  return (
    <>
      <Sign name={well === 'good' ? 'tick' : well === 'stop' ? 'cross' : 'specs'} />
      {says} {figure !== undefined && <small>{figure}</small>}
    </>
  )
}

/** Only a desk that is no longer heard can be released; one that is heard lifts its own. */
function HouseCell({ cell }: { cell: Cell }) {
  const isHeld = useSession(s => s.status?.house.state === 'lost' && holds(s.status.house))
  const mayRelease = useSession(s => isAtLeast(s.role, 'controller'))
  if (!isHeld || !mayRelease) return <PlainCell cell={cell} />
  return (
    <HoldButton
      className={`cell release ${cell.well}`}
      hotkey="l"
      fire={() => {
        void releaseHouse()
        return undefined
      }}
    >
      <Words cell={cell} />
      <b>Release</b>
    </HoldButton>
  )
}

/** What was skipped longer ago than this is over, ms. */
const LATELY = 20_000

/** Frames that the engine has skipped lately. */
function useSkippedLately(): number {
  const total = useSession(s => s.status?.frames.skipped ?? 0)
  const [base, setBase] = useState(total)
  useEffect(() => {
    // A new engine counts from the start.
    if (total < base) return setBase(total)
    const timer = setTimeout(() => setBase(total), LATELY)
    return () => clearTimeout(timer)
  }, [total, base])
  return Math.max(0, total - base)
}

const clockFace = (): string =>
  new Date().toLocaleTimeString([], { hour: '2-digit', minute: '2-digit', hour12: false })

function Now() {
  const [face, setFace] = useState(clockFace)
  useEffect(() => {
    const timer = setInterval(() => setFace(clockFace()), 1000)
    return () => clearInterval(timer)
  }, [])
  return <time>{face}</time>
}
