// Each universe of the kit: where it goes, chosen by list, and its test pattern.

import type { Network } from '@glowchart/shared/messages.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Route } from '@glowchart/shared/show/output.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { useSession } from '../document/session.ts'
import { PlaceSelect } from './PlaceSelect.tsx'
import { RouteRow } from './RouteRow.tsx'
import type { Receiver } from './receivers.ts'
import { placeKey, withRoute } from './routes.ts'
import { UniverseTestButton } from './UniverseTestButton.tsx'
import { useUniverseTesting } from './universe-testing.ts'

interface Props {
  rig: Rig
  kit: Kit
  universes: readonly number[]
  receivers: readonly Receiver[]
  live: readonly Route[]
  network: Network | null
  now: number
  onRoutes: (routes: Route[]) => unknown
}

export function Universes({ rig, kit, universes, receivers, live, network, now, onRoutes }: Props) {
  const outputs = useSession(s => s.status?.outputs)
  const dark = useSession(s => s.status?.check === 'dark')
  const testing = useUniverseTesting()
  return (
    <div className="universes">
      {universes.map(universe => {
        const own = live.filter(route => route.universe === universe)
        return (
          <section key={universe} aria-label={`Universe ${universe}`}>
            <h3>Universe {universe}</h3>
            <ul>
              {own.map((route, i) => (
                <RouteRow
                  key={placeKey(route.to)}
                  label={i === 0 ? 'Goes to' : 'And to'}
                  status={outputs?.find(o => placeKey(o.route.to) === placeKey(route.to))}
                  {...{ route, receivers, network, now }}
                  onChange={next => onRoutes(withRoute(live, route, next))}
                />
              ))}
            </ul>
            <PlaceSelect
              label={own.length === 0 ? 'Goes to' : 'And also to'}
              receivers={receivers}
              to={null}
              onChange={to => to && onRoutes(withRoute(live, null, { universe, to }))}
            />
            {own.length > 0 && <UniverseTestButton {...{ rig, kit, universe, testing }} />}
          </section>
        )
      })}
      {testing.problem && (
        <p className="fault" role="alert">
          {testing.problem.message}. {testing.problem.remedy}
        </p>
      )}
      {dark && <p className="quiet">The lights stay dark until the transport is next pressed.</p>}
      {live.length > 0 && (
        <p className="quiet">
          A test raises every slot of a universe for ten seconds. What is not in the patch may move: stand
          clear.
        </p>
      )}
    </div>
  )
}
