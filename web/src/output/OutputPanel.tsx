// Where tonight's light goes: what is sent now, the nodes that answer, and an address by hand. Off until chosen.

import { levelPlan } from '@glowchart/shared/render/levels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import { useSession } from '../document/session.ts'
import { setOutput } from '../live/desk.ts'
import { NewRoute } from './NewRoute.tsx'
import './output.css'
import { routeName } from './routes.ts'

export function OutputPanel({ rig, show }: { rig: Rig; show: Show }) {
  const outputs = useSession(s => s.status?.outputs)
  const frames = useSession(s => s.status?.frames)
  const kit = show.kits[show.tonight]
  const universes = useMemo(() => (kit ? levelPlan(rig, kit).universes : []), [rig, kit])
  const kept = show.output.routes
  const sends = (outputs?.length ?? 0) > 0
  return (
    <section id="output" className="output-panel" aria-labelledby="output-title">
      <header>
        <h2 id="output-title">Output</h2>
        <button
          type="button"
          className="btn quiet"
          onClick={() => useSession.setState({ choosesOutput: false })}
        >
          Done
        </button>
      </header>
      {sends ? (
        <>
          <ul className="routes">
            {outputs?.map(o => (
              <li key={routeName(o.route)} className={o.says ? 'failing' : ''}>
                <b>{routeName(o.route)}</b>
                <small>
                  {o.packets.toLocaleString('en')} packets
                  {o.errors > 0 && `, ${o.errors.toLocaleString('en')} not sent`}
                  {o.says && `: ${o.says}`}
                </small>
              </li>
            ))}
          </ul>
          {frames && (
            <p className="quiet">
              {frames.rate} frames/s, 99 of 100 within {frames.errorP99.toFixed(2)} ms
            </p>
          )}
          <button type="button" className="btn" onClick={() => setOutput({ ...show.output, routes: [] })}>
            Turn the output off
          </button>
        </>
      ) : (
        <>
          <p>Nothing leaves this machine. Choose where the light goes.</p>
          {kept.length > 0 && (
            <button type="button" className="btn" onClick={() => setOutput(show.output)}>
              Send as this show is kept: {kept.length} {kept.length === 1 ? 'universe' : 'universes'}
            </button>
          )}
        </>
      )}
      <NewRoute show={show} universes={universes} />
      <p className="quiet">
        Look before you send: flashing light can harm. Post a notice, and follow the rules of the house.
      </p>
    </section>
  )
}
