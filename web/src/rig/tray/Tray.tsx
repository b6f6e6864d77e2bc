// The builds at the foot of the plan: how many are in and spare, what one draws; dragged onto a socket, or pressed for it.

import { fullAmps } from '@glowchart/shared/power/draw.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { nextOf, stockOf } from '@glowchart/shared/rig/spares.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { BenchLink } from '../BenchLink.tsx'
import { carrying, isPress, under } from '../carry.ts'
import { useRigChoice } from '../choice.ts'
import { addFirstTube } from '../first.ts'
import { ampsText } from '../words.ts'
import { BuildSign } from './BuildSign.tsx'
import { fillSocket, fillWithNew, useOffer } from './filling.ts'
import './tray.css'

export function Tray({ rig, kit }: { rig: Rig; kit: Kit }) {
  const { box, socket } = useRigChoice()
  const { offer, makesNew } = useOffer()
  const label = box === null ? undefined : rig.boxes[box]?.sockets.find(s => s.id === socket)?.label
  const target = box !== null && label !== undefined ? `${rig.boxes[box]!.name}, socket ${label}` : null
  const put = (build: string, at: { box: string; socket: string } | null) =>
    at && fillSocket({ build, ...at })
  const builds = Object.entries(rig.builds)
  return (
    <section className="tray" aria-labelledby="tray-title">
      <header>
        <h2 id="tray-title">Builds</h2>
        <p>
          {target === null
            ? 'Drag a build onto a socket, or choose a socket and press a build. Spares stay in the van.'
            : `Press a build to put it into ${target}.`}
        </p>
        <label className="makes-new">
          <input
            type="checkbox"
            checked={makesNew}
            onChange={event => useOffer.setState({ makesNew: event.target.checked, offer: null })}
          />
          New ones when none is spare
        </label>
      </header>
      {offer && rig.builds[offer.build] && (
        <p className="offer" role="alert">
          None of {rig.builds[offer.build]!.name} is spare.
          <button type="button" className="btn go" onClick={() => fillWithNew(offer)}>
            Add {nextOf(rig, offer.build).name}, serial {nextOf(rig, offer.build).serial}
          </button>
          <button type="button" className="btn" onClick={() => useOffer.setState({ offer: null })}>
            Leave it
          </button>
        </p>
      )}
      <ul className="builds">
        {builds.map(([id, build]) => {
          const { standing, spare } = stockOf(rig, kit, id)
          const stock = `${standing.length} in, ${spare.length || 'none'} spare`
          return (
            <li key={id}>
              <button
                type="button"
                className="build"
                aria-description={target === null ? 'Choose a socket first' : `Puts it into ${target}`}
                onClick={event =>
                  isPress(event) && put(id, box !== null && socket !== null ? { box, socket } : null)
                }
                {...carrying({ kind: 'build', id, name: build.name }, (x, y) => {
                  const at = under(x, y, '[data-socket]')?.dataset
                  put(id, at?.box && at.socket ? { box: at.box, socket: at.socket } : null)
                })}
              >
                <BuildSign shape={build.shape} />
                <b>{build.name}</b>
                <span>{stock}</span>
                <span>{ampsText(fullAmps(build))} at full</span>
              </button>
              <BenchLink
                on={{ kind: 'build', id }}
                says="Edit"
                name={`Edit ${build.name} on the workbench`}
              />
            </li>
          )
        })}
        {builds.length === 0 && (
          <li>
            <button type="button" className="btn outline" onClick={addFirstTube}>
              Add a first tube
            </button>
          </li>
        )}
        <li className="more">
          <BenchLink on={null} says="New build" name="Make a new build on the workbench" />
        </li>
      </ul>
    </section>
  )
}
