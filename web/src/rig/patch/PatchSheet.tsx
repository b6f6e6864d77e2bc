// The patch in the side: what is wrong with it and what to do, every fixture on the wire, and the guests.

import { patch } from '@glowchart/shared/rig/patch.ts'
import type { Channel, Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import { proposed } from '../../output/routes.ts'
import { Sign } from '../../ui/signs.tsx'
import { chooseGuest, chooseSocket } from '../choice.ts'
import { rangeText } from '../words.ts'
import { Guests } from './Guests.tsx'
import './patch.css'

export function PatchSheet({ rig, show }: { rig: Rig; show: Show }) {
  const kit = show.kits[show.tonight]!
  const { entries, clashes } = useMemo(() => patch(rig, kit), [rig, kit])
  const universes = [...new Set(entries.map(e => e.universe))]
  return (
    <div className="patch-sheet">
      <h2>Patch</h2>
      <p>Worked out from the boxes and the sockets; only the addresses of boxes and guests are typed.</p>
      <ul className="clashes" aria-label="Clashes">
        {clashes.map(({ says, remedy }) => (
          <li key={says}>
            <Sign name="specs" />
            <span>
              {says} {remedy}
            </span>
          </li>
        ))}
        {clashes.length === 0 && entries.length > 0 && (
          <li className="none">
            <Sign name="tick" />
            <span>No address is claimed twice.</span>
          </li>
        )}
      </ul>
      {universes.map(universe => (
        <table key={universe}>
          <caption>
            Universe {universe} <small>{wireText(show, universe)}</small>
          </caption>
          <thead>
            <tr>
              <th scope="col">Address</th>
              <th scope="col">Fixture</th>
              <th scope="col">Plugged in</th>
              <th scope="col">Channels</th>
            </tr>
          </thead>
          <tbody>
            {entries
              .filter(e => e.universe === universe)
              .map(e => {
                const name = rig.fixtures[e.fixture]?.name ?? kit.guests[e.fixture]?.name ?? e.fixture
                const box = e.box === undefined ? undefined : rig.boxes[e.box]
                const label = box?.sockets.find(s => s.id === e.socket)?.label
                return (
                  <tr key={`${e.address} ${e.fixture}`}>
                    <td>{e.slots === 0 ? 'none' : rangeText(e.address, e.slots)}</td>
                    <td>
                      <button
                        type="button"
                        onClick={() =>
                          e.box !== undefined && e.socket !== undefined
                            ? chooseSocket(e.box, e.socket)
                            : chooseGuest(e.fixture)
                        }
                      >
                        {name}
                      </button>
                    </td>
                    <td>{box ? `${box.name}, socket ${label}` : 'guest'}</td>
                    <td>{channelsText(e.channels)}</td>
                  </tr>
                )
              })}
          </tbody>
        </table>
      ))}
      {entries.length === 0 && <p>Nothing is on the wire yet.</p>}
      <Guests rig={rig} show={show} />
    </div>
  )
}

/** How the universe leaves by the output that is kept with the show, or how it would by Art-Net. */
function wireText(show: Show, universe: number): string {
  const ways = show.output.routes.filter(route => route.universe === universe)
  if (ways.length === 0) return `Art-Net port address ${proposed('artnet', universe)}, when it is sent`
  const texts = ways.map(({ to }) =>
    to.protocol === 'artnet' ? `Art-Net port address ${to.portAddress}` : `sACN universe ${to.wireUniverse}`,
  )
  return [...new Set(texts)].join(', ')
}

/** "R G B", "red 1 green 1 …" shortened: letters, a cell after the other, and how many cells. */
function channelsText(channels: readonly Channel[]): string {
  const cells = new Set(channels.flatMap(c => ('cell' in c ? [c.cell] : [])))
  const first = channels.filter(c => !('cell' in c) || c.cell === 0)
  const letters = first.map(c =>
    c.does === 'fixed' ? (c.label ?? 'fixed') : c.does === 'intensity' ? 'dimmer' : c.does[0]!.toUpperCase(),
  )
  const wide = channels.some(c => c.bits === 16) ? ', 16 bit' : ''
  return `${letters.slice(0, 8).join(' ')}${letters.length > 8 ? ' …' : ''}${cells.size > 1 ? ` × ${cells.size} cells` : ''}${wide}`
}
