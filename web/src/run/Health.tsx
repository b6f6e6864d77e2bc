// The head of the run page: time of day, and how clock and ways out are.

import { isAtLeast, type Role } from '@glowchart/shared/access/role.ts'
import type { Stage } from '@glowchart/shared/rig/stage.ts'
import { changeCount } from '@glowchart/shared/version/changes.ts'
import { useEffect, useMemo, useState } from 'react'
import { AccessCell } from '../access/AccessCell.tsx'
import { useDocument } from '../document/document.ts'
import { useSession } from '../document/session.ts'
import { releaseHouse } from '../live/desk.ts'
import { mayOpen, places } from '../places.ts'
import { Sign } from '../ui/signs.tsx'
import { usePending, usePlayed, useVersion } from '../version/running.ts'
import { useAwake } from './awake.ts'
import { useBattery } from './battery.ts'
import { HoldButton } from './HoldButton.tsx'
import { type Cell, healthOf, lineCheckCell, NOT_CONNECTED, versionCell } from './health.ts'
import { holds } from './held.ts'
import { useLastStatus } from './last-status.ts'

export function Health() {
  const { status, isOld } = useLastStatus()
  const role = useSession(s => s.role)
  const nodes = useSession(s => s.network?.nodes ?? null)
  const running = useVersion(s => s.running?.number ?? null)
  const pending = changeCount(usePending())
  const played = usePlayed()
  const venue = played?.show.kits[played.show.tonight]?.venue
  const battery = useBattery()
  const awake = useAwake()
  const skipped = useSkippedLately()
  const heard = status ? healthOf(status, nodes, venue, battery, awake, skipped) : []
  const cells = isOld ? [NOT_CONNECTED, ...heard.map(cell => ({ ...cell, isOld }))] : heard
  const checked = useLineCheck(played?.tonight.stage)
  if (checked) cells.push(checked)
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
    <span className={`cell ${cell.isOld ? 'old' : cell.well}`}>
      <Words cell={cell} />
    </span>
  )
}

function Words({ cell: { well, says, figure, isOld } }: { cell: Cell }) {
  return (
    <>
      {isOld ? (
        <span className="sr">Last heard: </span>
      ) : (
        <Sign name={well === 'good' ? 'tick' : well === 'stop' ? 'cross' : 'specs'} />
      )}
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

/** What is written down of the lights that stand: the draft's rig has the latest. */
function useLineCheck(stage: Stage | undefined): Cell | null {
  const rig = useDocument(s => s.rig)
  return useMemo(
    () => (rig && stage ? lineCheckCell(rig, stage, Date.now(), -new Date().getTimezoneOffset()) : null),
    [rig, stage],
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
