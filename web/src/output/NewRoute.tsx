// The form that draws up a way out: protocol, node, and a number for each universe.

import type { FoundNode } from '@glowchart/shared/messages.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { type FormEvent, useState } from 'react'
import { useSession } from '../document/session.ts'
import { findNodes, setOutput } from '../live/desk.ts'
import { hostFault, numberRange, outputOf, type Protocol, proposed } from './routes.ts'

export function NewRoute({ show, universes }: { show: Show; universes: readonly number[] }) {
  const nodes = useSession(s => s.nodes)
  const searching = useSession(s => s.searching)
  const problem = useSession(s => s.problem)
  const [protocol, setProtocol] = useState<Protocol>('artnet')
  const [host, setHost] = useState('')
  const [numbers, setNumbers] = useState<Record<number, number>>({})
  const [fault, setFault] = useState<string | null>(null)

  const choose = (node: FoundNode) => {
    setProtocol('artnet')
    setHost(node.address)
    setFault(null)
    setNumbers(Object.fromEntries(universes.map((u, i) => [u, proposed('artnet', u, node.portAddresses, i)])))
  }
  const submit = async (event: FormEvent) => {
    event.preventDefault()
    const wrong = hostFault(protocol, host)
    setFault(wrong)
    if (!wrong) await setOutput(outputOf(show.output, universes, { protocol, host, numbers }))
  }
  const range = numberRange(protocol)
  return (
    <form className="new-route" onSubmit={submit} noValidate>
      <div className="found">
        <button
          type="button"
          className="btn"
          aria-disabled={searching}
          onClick={() => !searching && findNodes()}
        >
          {searching ? 'Listening for nodes' : 'Look for Art-Net nodes'}
        </button>
        {nodes && nodes.length === 0 && !searching && (
          <p className="quiet">
            No node answered. Is it on, and on this network? An address can be typed below.
          </p>
        )}
        <ul aria-label="Nodes that answered">
          {nodes?.map(node => (
            <li key={node.address}>
              <button
                type="button"
                className="node"
                aria-pressed={host === node.address}
                onClick={() => choose(node)}
              >
                <b>{node.name || node.address}</b>
                <small>
                  {node.address}
                  {node.portAddresses.length > 0 && `, port address ${node.portAddresses.join(', ')}`}
                </small>
              </button>
            </li>
          ))}
        </ul>
      </div>
      <fieldset>
        <legend>Protocol</legend>
        {(['artnet', 'sacn'] as const).map(p => (
          <label key={p}>
            <input
              type="radio"
              name="protocol"
              checked={protocol === p}
              onChange={() => {
                setProtocol(p)
                setNumbers({})
                if (p === 'artnet' && host === 'multicast') setHost('')
              }}
            />
            {p === 'artnet' ? 'Art-Net' : 'sACN'}
          </label>
        ))}
      </fieldset>
      <label className="field">
        {protocol === 'artnet' ? 'Address of the node' : 'Address of the receiver, or multicast'}
        <input
          value={host}
          placeholder={protocol === 'artnet' ? '10.0.0.20' : 'multicast'}
          spellCheck={false}
          autoComplete="off"
          aria-invalid={fault !== null}
          aria-describedby="host-fault"
          onChange={e => setHost(e.target.value.trim().toLowerCase())}
        />
      </label>
      <p id="host-fault" className="fault" role="status">
        {fault ?? (problem ? `${problem.message}. ${problem.remedy}` : '')}
      </p>
      <div className="numbers">
        {universes.map(u => (
          <label key={u} className="field">
            Universe {u} to {protocol === 'artnet' ? 'port address' : 'universe'}
            <input
              type="number"
              {...range}
              value={numbers[u] ?? proposed(protocol, u)}
              onChange={e =>
                setNumbers({
                  ...numbers,
                  [u]: Math.min(range.max, Math.max(range.min, Math.round(Number(e.target.value)))),
                })
              }
            />
          </label>
        ))}
      </div>
      <button type="submit" className="btn go" aria-disabled={universes.length === 0}>
        Send to this node
      </button>
    </form>
  )
}
