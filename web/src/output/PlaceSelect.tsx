// Where a universe goes, chosen from a list: every number of every receiver, or nowhere.

import type { Route } from '@glowchart/shared/show/output.ts'
import type { Receiver } from './receivers.ts'
import { numberText, placeKey, wayTo } from './routes.ts'

interface Props {
  label: string
  receivers: readonly Receiver[]
  to: Route['to'] | null
  /** Null: nowhere. */
  onChange: (to: Route['to'] | null) => unknown
}

export function PlaceSelect({ label, receivers, to, onChange }: Props) {
  const places = receivers.map(({ key, name, host, numbers }) => ({
    key,
    name,
    ways: numbers.map(number => ({ number, host, way: wayTo(host, number, to ?? undefined) })),
  }))
  const all = places.flatMap(place => place.ways)
  return (
    <label className="field">
      {label}
      <select
        value={to ? placeKey(to) : ''}
        onChange={e => onChange(all.find(({ way }) => placeKey(way) === e.target.value)?.way ?? null)}
      >
        <option value="">Nowhere</option>
        {places.map(({ key, name, ways }) => (
          <optgroup key={key} label={name}>
            {ways.map(({ number, host, way }) => (
              <option key={number} value={placeKey(way)}>
                {name}, {numberText(host.protocol, number)}
              </option>
            ))}
          </optgroup>
        ))}
      </select>
    </label>
  )
}
