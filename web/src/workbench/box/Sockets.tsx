// The sockets of a box in the order of the decoder's outputs: label, channels, cable, contacts and fuse of each.

import { fullAmps } from '@glowchart/shared/power/draw.ts'
import { withMoreSockets } from '@glowchart/shared/rig/box-new.ts'
import type { Box, Rig } from '@glowchart/shared/rig/schema.ts'
import { useState } from 'react'
import { useDocument } from '../../document/document.ts'
import { lengthIn, lengthText } from '../../rig/length.ts'
import { wireText } from '../../rig/words.ts'
import { NameField } from '../../ui/NameField.tsx'
import { Sign } from '../../ui/signs.tsx'
import { changeBox } from '../build/change.ts'
import { Measure } from '../Measure.tsx'
import { Pick } from '../Pick.tsx'
import { FuseChoice } from './FuseChoice.tsx'
import { wireChoices } from './wires.ts'

interface Props {
  rig: Rig
  id: string
  box: Box
}

type Socket = Box['sockets'][number]
const MOST = 64

export function SocketsGroup({ rig, id, box }: Props) {
  const { sockets } = box
  const [count, setCount] = useState(1)
  const out = useDocument(s => s.show?.kits[s.show.tonight]?.boxes[id])
  const loadOf = (socket: Socket): number | null => {
    const fixture = rig.fixtures[out?.sockets[socket.id]?.fixture ?? '']
    const build = fixture && rig.builds[fixture.build]
    return build ? fullAmps(build) : null
  }
  const change = (what: string, next: Socket[]) => changeBox(id, box, what, { sockets: next })
  const set = (socket: Socket, what: string, fields: Partial<Socket>) =>
    change(
      `${what} of socket ${socket.label}`,
      sockets.map(one => (one === socket ? { ...socket, ...fields } : one)),
    )
  const more = Math.min(count, MOST - sockets.length)
  return (
    <section className="group wide" aria-labelledby="sockets-title">
      <h3 id="sockets-title">
        Sockets <small>{sockets.length}</small>
      </h3>
      <table className="socket-table">
        <thead>
          <tr>
            {['Label', 'Channels', 'Cable', 'Wire', 'Conductors', 'Contact', 'Fuse', ''].map(head => (
              <th key={head} scope="col">
                {head || <span className="sr">Order</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {sockets.map((socket, i) => (
            <tr key={socket.id}>
              <td data-head="Label">
                <NameField
                  label={`Label of socket ${socket.label}`}
                  name={socket.label}
                  onName={label => set(socket, 'label', { label: label.slice(0, 12) })}
                />
              </td>
              <td data-head="Channels">
                <Measure
                  bare
                  label={`Channels of socket ${socket.label}`}
                  whole
                  least={1}
                  most={12}
                  value={socket.channels}
                  onChange={channels => set(socket, 'channels', { channels })}
                />
              </td>
              <td data-head="Cable">
                <Measure
                  bare
                  label={`Cable of socket ${socket.label}`}
                  unit="m"
                  least={0}
                  most={100}
                  parse={text => lengthIn(text, 'metres')}
                  value={socket.cable.length}
                  onChange={length => set(socket, 'cable', { cable: { ...socket.cable, length } })}
                />
                <small>{lengthText(socket.cable.length, 'feet')}</small>
              </td>
              <td data-head="Wire">
                <Pick
                  bare
                  label={`Wire of socket ${socket.label}`}
                  value={wireText(socket.cable.wire)}
                  options={wireChoices(socket.cable.wire).map(([text]) => [text, text])}
                  onChange={text => {
                    const wire = wireChoices(socket.cable.wire).find(([one]) => one === text)![1]
                    void set(socket, 'wire', { cable: { ...socket.cable, wire } })
                  }}
                />
              </td>
              <td data-head="Conductors">
                <Measure
                  bare
                  label={`Conductors of socket ${socket.label}`}
                  whole
                  least={2}
                  most={12}
                  value={socket.cable.conductors}
                  onChange={conductors =>
                    set(socket, 'conductors', { cable: { ...socket.cable, conductors } })
                  }
                />
              </td>
              <td data-head="Contact">
                <Measure
                  bare
                  label={`A contact of socket ${socket.label} carries`}
                  unit="A"
                  least={0.1}
                  most={100}
                  value={socket.contactAmps}
                  onChange={contactAmps => set(socket, 'contact', { contactAmps })}
                />
              </td>
              <td data-head="Fuse">
                <FuseChoice
                  socket={socket}
                  load={loadOf(socket)}
                  onChange={fuse => {
                    const { fuse: _gone, ...rest } = socket
                    const next = fuse === undefined ? rest : { ...rest, fuse }
                    void change(`fuse of socket ${socket.label}`, sockets.with(i, next))
                  }}
                />
              </td>
              <td className="order">
                <button
                  type="button"
                  className="btn quiet"
                  aria-label={`All sockets like ${socket.label}`}
                  title="All sockets like this one"
                  onClick={() =>
                    change(
                      `all sockets like ${socket.label}`,
                      sockets.map(one => like(socket, one)),
                    )
                  }
                >
                  All so
                </button>
                <button
                  type="button"
                  className="btn quiet"
                  aria-label={`Socket ${socket.label} up`}
                  aria-disabled={i === 0}
                  onClick={() => i > 0 && change('order of sockets', moved(sockets, i, -1))}
                >
                  <Sign name="up" />
                </button>
                <button
                  type="button"
                  className="btn quiet"
                  aria-label={`Socket ${socket.label} down`}
                  aria-disabled={i === sockets.length - 1}
                  onClick={() => i < sockets.length - 1 && change('order of sockets', moved(sockets, i, 1))}
                >
                  <Sign name="down" />
                </button>
                <button
                  type="button"
                  className="btn quiet"
                  aria-label={`Take out socket ${socket.label}`}
                  aria-disabled={sockets.length === 1}
                  onClick={() => sockets.length > 1 && change('a socket fewer', sockets.toSpliced(i, 1))}
                >
                  <Sign name="cross" />
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="row">
        <Measure label="How many more" whole least={1} most={MOST} value={count} onChange={setCount} />
        <button
          type="button"
          className="btn"
          aria-disabled={more === 0}
          onClick={() =>
            more > 0 &&
            changeBox(id, box, more === 1 ? 'a socket more' : `${more} sockets more`, {
              sockets: withMoreSockets(box, sockets.at(-1)!, more).sockets,
            })
          }
        >
          Add like the last
        </button>
      </div>
      <p className="note">
        Two rules are shown for a fuse: the load at most 75 % of it (makers’ practice), or it at least 125 %
        of a load that lasts (NEC); and never more than the smallest conductor allows (NEC 240.4(D): 18 AWG 7
        A, 16 AWG 10 A). Sockets take the decoder’s outputs in this order. Cables across a stage are trip
        hazards: tape or cover them.
      </p>
    </section>
  )
}

/** Another socket with this one's wiring; its label, id and length stay its own. */
function like(socket: Socket, other: Socket): Socket {
  const cable = { ...socket.cable, length: other.cable.length }
  return { ...socket, id: other.id, label: other.label, cable }
}

const moved = (sockets: readonly Socket[], i: number, by: number): Socket[] =>
  sockets.toSpliced(i, 1).toSpliced(i + by, 0, sockets[i]!)
