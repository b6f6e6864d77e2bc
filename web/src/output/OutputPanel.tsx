// Where tonight's light goes: this laptop's networks, the nodes that answer, and which universe goes to which of them.

import { laptopSays } from '@glowchart/shared/network/reach.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Output, Route } from '@glowchart/shared/show/output.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useMemo, useState } from 'react'
import { Editable } from '../access/Editable.tsx'
import { edit } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { AddReceiver } from './AddReceiver.tsx'
import { useAsking, useEngineNow } from './asking.ts'
import { Board, type Line } from './Board.tsx'
import { choose, chooseAgain, turnOff, useLiveRoutes } from './choosing.ts'
import { LastTime } from './LastTime.tsx'
import './output.css'
import { Pace } from './Pace.tsx'
import { Receivers } from './Receivers.tsx'
import { receiversOf, silenceText } from './receivers.ts'
import { type Host, placeKey, wayTo, withRoute } from './routes.ts'
import { Understudy } from './Understudy.tsx'
import { Universes } from './Universes.tsx'
import { isOfUnderstudy } from './understudy-words.ts'

export function OutputPanel({ rig, show }: { rig: Rig; show: Show }) {
  const network = useSession(s => s.network)
  const outputs = useSession(s => s.status?.outputs)
  const frames = useSession(s => s.status?.frames)
  const problem = useSession(s => s.problem)
  const [typed, setTyped] = useState<readonly Host[]>([])
  const live = useLiveRoutes()
  const now = useEngineNow()
  const kit = show.kits[show.tonight]
  const universes = useMemo(() => (kit ? levelPlan(rig, kit).universes : []), [rig, kit])
  const kept = show.output
  const receivers = useMemo(
    () => receiversOf(network, [...live, ...kept.routes], typed, universes),
    [network, live, kept.routes, typed, universes],
  )
  useAsking(true, [...typed, ...live.map(route => route.to)])

  const setRoutes = (routes: Route[]) => choose({ ...kept, routes })
  const setPace = (output: Output) =>
    live.length > 0 ? choose({ ...output, routes: [...live] }) : edit('setOutput', { output })
  const put = (universe: number, to: Route['to']) => {
    const own = live.filter(route => route.universe === universe)
    const old = own.length === 1 ? own[0]! : null
    return setRoutes(withRoute(live, old, { ...old, universe, to }))
  }
  const isFailing = (route: Route) =>
    silenceText(network, [route], now) !== null ||
    (outputs?.some(o => o.says !== '' && placeKey(o.route.to) === placeKey(route.to)) ?? false)
  const lines: Line[] = (live.length > 0 ? live : kept.routes).map(route => ({
    universe: route.universe,
    place: placeKey(route.to),
    state: live.length === 0 ? 'kept' : isFailing(route) ? 'failing' : 'sent',
  }))
  return (
    <section id="output" className="output-panel" aria-label="Output">
      <p className="laptop">
        {network ? laptopSays(network.interfaces) : 'Looking at this laptop’s networks.'}
      </p>
      {network?.says && <p className="fault">{network.says}</p>}
      <div className="half">
        <Editable>
          {live.length === 0 ? (
            <p>Nothing leaves this laptop. Choose where each universe goes.</p>
          ) : (
            <div className="sends">
              <p>
                Sending {live.length} {live.length === 1 ? 'universe' : 'universes'}
                {frames && `, ${frames.rate} frames/s, 99 of 100 within ${frames.errorP99.toFixed(2)} ms`}
              </p>
              <button type="button" className="btn" onClick={() => turnOff(kept)}>
                Turn the output off
              </button>
            </div>
          )}
          <LastTime kept={kept} live={live} receivers={receivers} onAgain={() => chooseAgain(kept)} />
          {problem && !isOfUnderstudy(problem) && (
            <p className="fault" role="status">
              {problem.message}. {problem.remedy}
            </p>
          )}
          <Board
            {...{ universes, receivers, lines, now }}
            onDrop={(universe, { host }, number) => put(universe, wayTo(host, number))}
          />
          {kit && (
            <Universes {...{ rig, kit, universes, receivers, live, network, now }} onRoutes={setRoutes} />
          )}
        </Editable>
      </div>
      <div className="half">
        <Editable>
          <Receivers {...{ receivers, universes, now }} onAll={routes => setRoutes(routes)} />
          <AddReceiver onAdd={host => setTyped([...typed, host])} />
          <Pace output={kept} sendsSacn={live.some(r => r.to.protocol === 'sacn')} onChange={setPace} />
        </Editable>
        <Understudy />
        <p className="quiet">
          Look before you send: flashing light can harm. Post a notice, and follow the rules of the house.
        </p>
      </div>
    </section>
  )
}
