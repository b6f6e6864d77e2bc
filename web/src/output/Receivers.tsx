// The nodes that answer, and those that should: name, address, ports, last heard, what is wrong, and all universes at once.

import type { Route } from '@glowchart/shared/show/output.ts'
import { heardText, type Receiver } from './receivers.ts'
import { numberText, wayTo } from './routes.ts'

interface Props {
  receivers: readonly Receiver[]
  universes: readonly number[]
  now: number
  /** The kit's universes, in order, to the numbers of one receiver, and nowhere else. */
  onAll: (routes: Route[]) => unknown
}

export function Receivers({ receivers, universes, now, onAll }: Props) {
  const heard = receivers.some(receiver => receiver.node?.lastSeen != null)
  return (
    <div className="receivers">
      <h3>Nodes</h3>
      {!heard && (
        <p className="quiet">
          No node answers yet; they are asked every three seconds. Is it on, and on this network?
        </p>
      )}
      <ul aria-label="Nodes">
        {receivers.map(({ key, host, name, about, numbers, node, says }) => (
          <li key={key}>
            <b>{name}</b>
            <small>
              {[about, node && heardText(node, now)].filter(Boolean).join('; ')}
              {node && node.portAddresses.length > 0 && (
                <> · {node.portAddresses.map(number => numberText('artnet', number)).join(', ')}</>
              )}
            </small>
            {says && <p className="fault">{says}</p>}
            {numbers.length >= universes.length && universes.length > 0 && (
              <button
                type="button"
                className="btn"
                onClick={() =>
                  onAll(universes.map((universe, i) => ({ universe, to: wayTo(host, numbers[i]!) })))
                }
              >
                Send all to {name}
              </button>
            )}
          </li>
        ))}
      </ul>
    </div>
  )
}
