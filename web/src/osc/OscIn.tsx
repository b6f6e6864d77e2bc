// Open Sound Control in: whether it is heard and where, what came last, and which addresses do what.

import { isLoopback } from '@glowchart/shared/network/ipv4.ts'
import { oscMethods } from '@glowchart/shared/osc/commands.ts'
import type { OscIn as Where } from '@glowchart/shared/osc/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import { edit } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { NumberBox } from '../output/NumberBox.tsx'
import './osc.css'

/** Common practice, no source: many senders offer it first. */
const FIRST: Where = { port: 9000, address: '127.0.0.1' }

export function OscIn({ show }: { show: Show }) {
  const where = show.osc
  const set = (osc: Where | null) => void edit('setOsc', { osc })
  return (
    <section className="osc" aria-labelledby="osc-title">
      <h2 id="osc-title">OSC</h2>
      <p>
        Open Sound Control over UDP, from another program or a phone. It acts without any page, as pedals do.
        Addresses that are not in the list below can be learned as triggers.
      </p>
      <div className="fields">
        <label className="tick">
          <input
            type="checkbox"
            checked={where !== undefined}
            onChange={e => set(e.target.checked ? FIRST : null)}
          />
          Hear OSC
        </label>
        {where && (
          <>
            <NumberBox
              label="UDP port"
              value={where.port}
              min={1024}
              max={65535}
              onChange={port => set({ ...where, port })}
            />
            <AddressChoice where={where} onChange={address => set({ ...where, address })} />
          </>
        )}
      </div>
      {where && !isLoopback(where.address) && (
        <p>
          OSC has no password: whoever is on that network can press what is listed here. Use one that the
          audience’s phones are not on.
        </p>
      )}
      {where && <Heard />}
      {where && <Addresses show={show} />}
    </section>
  )
}

function AddressChoice({ where, onChange }: { where: Where; onChange: (address: string) => void }) {
  const interfaces = useSession(s => s.network?.interfaces)
  const known = (interfaces ?? []).filter(one => !isLoopback(one.address))
  const choices = new Map([
    ['127.0.0.1', 'This laptop alone'],
    ...known.map(({ address, name }) => [address, `${address} on ${name}`] as const),
    ['0.0.0.0', 'Every network it is on'],
  ])
  if (!choices.has(where.address)) choices.set(where.address, where.address)
  return (
    <label className="field">
      From
      <select value={where.address} onChange={e => onChange(e.target.value)}>
        {[...choices].map(([address, words]) => (
          <option key={address} value={address}>
            {words}
          </option>
        ))}
      </select>
    </label>
  )
}

function Heard() {
  const osc = useSession(s => s.status?.osc)
  if (!osc) return <p className="osc-heard">The light engine does not answer.</p>
  const { port, says, heard } = osc
  return (
    <div className="osc-heard" role="status">
      <p>
        {port > 0
          ? `Listening at port ${port}.`
          : says === '' &&
            'Not listening: what runs now was published without OSC, or has just been loaded.'}{' '}
        {says}
      </p>
      {heard && (
        <p>
          Heard last, from {heard.from}: <code>{`${heard.address} ${heard.args}`}</code> {heard.does}
        </p>
      )}
    </div>
  )
}

function Addresses({ show }: { show: Show }) {
  const methods = useMemo(() => oscMethods(show), [show])
  return (
    <details>
      <summary>Addresses</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">Address</th>
            <th scope="col">Value</th>
            <th scope="col">Does</th>
          </tr>
        </thead>
        <tbody>
          {methods.map(({ address, takes, does }) => (
            <tr key={address}>
              <td>
                <code>{address}</code>
              </td>
              <td>{takes}</td>
              <td>{does}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
