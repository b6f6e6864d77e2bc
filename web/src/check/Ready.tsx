// Before and after a check: begin, go on, glow for plugging up, and what is still open from last time.

import type { Run, Stop } from '@glowchart/shared/check/run.ts'
import type { Group } from '@glowchart/shared/check/stations.ts'
import { turnsOf } from '@glowchart/shared/rig/contacts.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { Sign } from '../ui/signs.tsx'
import { press, stationsOf } from './checking.ts'
import { Mended } from './Mended.tsx'
import { UndoButton } from './UndoButton.tsx'

interface Props {
  rig: Rig
  groups: readonly Group[]
  stops: readonly Stop[]
  run: Run
}

export function Ready({ rig, groups, stops, run }: Props) {
  const known = run.verdicts
  const open = stops.filter(({ key }) => known[key] === undefined).length
  const failed = stationsOf(groups).filter(({ key }) => known[key]?.passed === false)
  const isPartly = open > 0 && open < stops.length
  const glows = run.mode === 'glow'
  return (
    <>
      <h2>{glows ? 'Plugging up' : run.mode === 'done' ? 'Checked' : 'Ready'}</h2>
      <p className="spot">{stateText(run, stops.length, open, failed.length)}</p>
      <Mended rig={rig} />
      <UndoButton run={run} />
      {glows ? <TurnText rig={rig} groups={groups} /> : <OpenFaults rig={rig} groups={groups} />}
      <div className="begin">
        <button
          type="button"
          className="sw"
          role="switch"
          aria-checked={glows}
          onClick={() => press({ do: 'glow' })}
        >
          <i /> Glow for plugging up
        </button>
        {isPartly && (
          <button type="button" className="v pass" onClick={() => press({ do: 'start', verdicts: known })}>
            Go on, {open} to do
          </button>
        )}
        {failed.length > 0 && (
          <button
            type="button"
            className={isPartly ? 'v again' : 'v pass'}
            onClick={() => press({ do: 'start', at: failed[0]!.key, verdicts: withoutFailed(known) })}
          >
            Check what failed
          </button>
        )}
        <button
          type="button"
          className={isPartly || failed.length > 0 ? 'v again' : 'v pass'}
          disabled={stops.length === 0}
          onClick={() => press({ do: 'start', at: stops[0]?.key ?? '' })}
        >
          {isPartly || open === 0 ? 'From the first' : 'Start'}
        </button>
      </div>
    </>
  )
}

function stateText(run: Run, all: number, open: number, failed: number): string {
  if (all === 0) return 'Nothing stands in a socket of tonight’s kit.'
  if (run.mode === 'glow') return 'Everything is a little on: what is put in right lights at once.'
  if (run.mode === 'done') {
    return failed === 0 ? `All ${all} passed. The lights are dark.` : `${failed} to fix. The lights are dark.`
  }
  if (open === 0)
    return failed === 0 ? `All ${all} are checked.` : `All ${all} are checked, ${failed} to fix.`
  return open < all
    ? `${all - open} of ${all} are checked.`
    : `${all} lights, one after the other; everything else dark.`
}

const withoutFailed = (verdicts: Run['verdicts']): Run['verdicts'] =>
  Object.fromEntries(Object.entries(verdicts).filter(([, { passed }]) => passed))

function OpenFaults({ rig, groups }: { rig: Rig; groups: readonly Group[] }) {
  const open = stationsOf(groups).flatMap(station => {
    const fixture = station.box && station.fixture ? rig.fixtures[station.fixture] : undefined
    return fixture && fixture.faults.length > 0 ? [{ station, fixture }] : []
  })
  if (open.length === 0) return null
  return (
    <div className="fix open-faults">
      <h3>
        <Sign name="cross" /> Open from last time
      </h3>
      <ul>
        {open.map(({ station, fixture }) => (
          <li key={station.key}>
            <b>{fixture.name}</b>, {fixture.serial}, {station.boxName} socket {station.label}:{' '}
            {fixture.faults.map(({ what, at }) => `${what} (${at.slice(0, 10)})`).join('; ')}
          </li>
        ))}
      </ul>
    </div>
  )
}

/** What a turned plug gives, once for each order of contacts that stands tonight. */
function TurnText({ rig, groups }: { rig: Rig; groups: readonly Group[] }) {
  const orders = new Map<string, { contacts: Parameters<typeof turnsOf>[0]; names: string[] }>()
  for (const { box, fixture } of stationsOf(groups)) {
    const build = box && fixture ? rig.builds[rig.fixtures[fixture]?.build ?? ''] : undefined
    if (!build) continue
    const key = build.contacts.join(' ')
    const known = orders.get(key)
    if (!known) orders.set(key, { contacts: build.contacts, names: [build.name] })
    else if (!known.names.includes(build.name)) known.names.push(build.name)
  }
  return (
    <div className="turns">
      {[...orders].map(([key, { contacts, names }]) => (
        <div key={key}>
          <h3>
            {names.join(', ')}: contacts {contacts.join(', ')}
          </h3>
          <ul>
            {turnsOf(contacts).map(({ by, says }) => (
              <li key={by}>{says}</li>
            ))}
          </ul>
        </div>
      ))}
      <p>Turn and pull plugs while it glows, not while it is full on: little current flows now.</p>
    </div>
  )
}
