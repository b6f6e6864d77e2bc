// One way out of a universe: where it goes, how it fares, and behind a fold its number, adapter, frames and priority.

import type { Network, OutputStatus } from '@glowchart/shared/messages.ts'
import { isLoopback } from '@glowchart/shared/network/ipv4.ts'
import { nameOf, reach } from '@glowchart/shared/network/reach.ts'
import type { Route } from '@glowchart/shared/show/output.ts'
import { NumberBox } from './NumberBox.tsx'
import { PlaceSelect } from './PlaceSelect.tsx'
import { type Receiver, silenceText } from './receivers.ts'
import { numberOf, numberRange, wayTo } from './routes.ts'

interface Props {
  route: Route
  label: string
  status: OutputStatus | undefined
  receivers: readonly Receiver[]
  network: Network | null
  now: number
  /** Null: the universe goes there no longer. */
  onChange: (route: Route | null) => unknown
}

export function RouteRow({ route, label, status, receivers, network, now, onChange }: Props) {
  const { to, via } = route
  const setTo = (next: Route['to'] | null) => onChange(next && { ...route, to: next })
  const verdict = network && to.host !== 'multicast' ? reach(network.interfaces, to.host, via).says : ''
  const silence = silenceText(network, [route], now)
  const faults = [status?.says, silence, verdict].filter(Boolean)
  const adapters = network?.interfaces.filter(one => !isLoopback(one.address) || one.address === via) ?? []
  return (
    <li className="route">
      <PlaceSelect label={label} receivers={receivers} to={to} onChange={setTo} />
      {status && (
        <p className="quiet">
          {status.packets.toLocaleString('en')} packets
          {status.errors > 0 && `, ${status.errors.toLocaleString('en')} not sent`}
        </p>
      )}
      {faults.map(text => (
        <p key={text} className="fault">
          {text}
        </p>
      ))}
      <details>
        <summary>Number, adapter, frames</summary>
        <div className="fields">
          <NumberBox
            label={to.protocol === 'artnet' ? 'Port-Address' : 'Universe on the wire'}
            value={numberOf(to)}
            {...numberRange(to.protocol)}
            onChange={number => setTo(wayTo(to, number, to))}
          />
          {to.protocol === 'sacn' && (
            <NumberBox
              label="Priority"
              value={to.priority}
              min={0}
              max={200}
              onChange={priority => setTo({ ...to, priority })}
            />
          )}
          <label className="field">
            Send from
            <select
              value={via ?? ''}
              onChange={e => {
                const { via: _, ...rest } = route
                onChange(e.target.value === '' ? rest : { ...rest, via: e.target.value })
              }}
            >
              <option value="">The system’s choice</option>
              {adapters.map(one => (
                <option key={one.address} value={one.address}>
                  {one.address} on {nameOf(one)}
                </option>
              ))}
              {via !== undefined && !adapters.some(one => one.address === via) && (
                <option value={via}>{via}, not there now</option>
              )}
            </select>
          </label>
          <label className="field">
            Frames sent
            <select
              value={to.mode}
              onChange={e => setTo({ ...to, mode: e.target.value === 'every' ? 'every' : 'changes' })}
            >
              <option value="every">Every frame</option>
              <option value="changes">Changes, and one a second</option>
            </select>
          </label>
        </div>
      </details>
    </li>
  )
}
