// One light under check: what and where it is, its channels, pass and fail.

import { type Raise, raisesOf } from '@glowchart/shared/check/raise.ts'
import type { Run } from '@glowchart/shared/check/run.ts'
import { slotText } from '@glowchart/shared/check/slots.ts'
import type { Group, Station } from '@glowchart/shared/check/stations.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { CSSProperties, ReactNode } from 'react'
import { Sign } from '../ui/signs.tsx'
import { press, stationsOf, stopsOf } from './checking.ts'
import { Mended } from './Mended.tsx'
import { badgeOf } from './Strip.tsx'
import { UndoButton } from './UndoButton.tsx'

interface Props {
  groups: readonly Group[]
  run: Run
  rig: Rig
}

export function LightPanel({ groups, run, rig }: Props) {
  const stations = stationsOf(groups)
  const station = stations.find(({ key }) => key === run.at)
  if (!station) return null
  const fixture = station.box && station.fixture ? rig.fixtures[station.fixture] : undefined
  const verdict = run.verdicts[station.key]
  return (
    <>
      <Who station={station}>
        <UndoButton run={run} />
      </Who>
      {run.mode === 'halted' ? (
        <div className="fix" role="status">
          <h3>
            <Sign name="cross" /> Written down, and dark
          </h3>
          <p>{verdict?.reason}.</p>
        </div>
      ) : (
        <>
          {fixture && fixture.faults.length > 0 && (
            <p className="spot open">
              <Sign name="specs" /> Open: {fixture.faults.map(({ what }) => what).join('; ')}
            </p>
          )}
          <Mended rig={rig} />
        </>
      )}
      <Channels station={station} run={run} />
      {run.mode === 'halted' ? (
        <div className="verdict">
          <button type="button" className="v again" onClick={() => press({ do: 'again' })}>
            Again
          </button>
          <button type="button" className="v pass" onClick={() => press({ do: 'next' })}>
            Go on
          </button>
        </div>
      ) : (
        <div className="verdict">
          <button type="button" className="v fail" onClick={() => press({ do: 'fail' })}>
            <Sign name="cross" /> Fail
          </button>
          <button type="button" className="v pass" onClick={() => press({ do: 'pass' })}>
            <Sign name="tick" /> Pass
          </button>
        </div>
      )}
      <Then groups={groups} run={run} stations={stations} />
    </>
  )
}

export function Who({ station, children }: { station: Station; children?: ReactNode }) {
  return (
    <>
      <div className="who">
        <span className="badge" aria-hidden="true">
          {badgeOf(station.boxName)}
        </span>
        {station.boxName}
        {station.label && `, socket ${station.label}`}
        {children}
      </div>
      <h2>{station.name}</h2>
      <p className="spot">{station.where}</p>
    </>
  )
}

const letters: Record<Raise, string> = { red: 'R', green: 'G', blue: 'B', white: 'W', all: 'All' }
const tints: Record<Raise, string> = {
  red: '#ff3b30',
  green: '#2fbf5b',
  blue: '#4a66ff',
  white: '#fff4e0',
  all: '#fff4e0',
}

function Channels({ station, run }: { station: Station; run: Run }) {
  const raises = raisesOf(station)
  return (
    <>
      <div className="rgbw" style={{ gridTemplateColumns: `repeat(${raises.length}, 1fr)` }}>
        {raises.map(raise => {
          const isOn = run.mode === 'checking' && raise === run.raise
          const slot = raise === 'all' ? '' : slotText(station.slots, raise)
          return (
            <button
              key={raise}
              type="button"
              className={`ch${isOn ? ' on' : ''}`}
              style={{ '--c': tints[raise] } as CSSProperties}
              aria-pressed={isOn}
              aria-label={`${raise === 'all' ? 'All channels' : raise}${slot ? `, slot ${slot}` : ''}${run.seen.includes(raise) ? ', raised' : ''}`}
              disabled={run.mode !== 'checking'}
              onClick={() => press({ do: 'raise', raise })}
            >
              {letters[raise]}
              <small>{slot || 'all'}</small>
              <i />
              {run.seen.includes(raise) && !isOn && <Sign name="tick" />}
            </button>
          )
        })}
      </div>
      <div className="auto">
        <button
          type="button"
          className="sw"
          role="switch"
          aria-checked={run.auto}
          onClick={() => press({ do: 'auto', on: !run.auto })}
        >
          <i /> Step {raises.map(raise => letters[raise]).join(' ')}, 1 s each
        </button>
        <button type="button" className="btn quiet" onClick={() => press({ do: 'end' })}>
          End
        </button>
      </div>
    </>
  )
}

function Then({
  groups,
  run,
  stations,
}: {
  groups: readonly Group[]
  run: Run
  stations: readonly Station[]
}) {
  const stops = stopsOf(groups)
  const at = stops.findIndex(({ key }) => key === run.at)
  const next = stops.slice(at + 1).find(({ key }) => run.verdicts[key] === undefined)
  const station = next && stations.find(({ key }) => key === next.key)
  return (
    <p className="then">
      {station
        ? `Next is ${station.label ? `socket ${station.label}, ` : ''}${station.name}. `
        : 'This is the last on the way. '}
      Space, or a pedal that types it, passes.
    </p>
  )
}
