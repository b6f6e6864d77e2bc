// The sockets of a box in a table: what is in, its address, cable, amps, and the volts at the light; one is opened.

import { socketsAdvice } from '@glowchart/shared/advice/power.ts'
import type { BoxLoad } from '@glowchart/shared/power/box.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import { reachOf } from '@glowchart/shared/rig/reach.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { Fragment, useMemo } from 'react'
import { Sign } from '../../ui/signs.tsx'
import { chooseBox, chooseSocket, useRigChoice } from '../choice.ts'
import { lengthText, useLengthUnit } from '../length.ts'
import { BuildSign } from '../tray/BuildSign.tsx'
import { rangeText, wireText } from '../words.ts'
import { notableText } from './notable.ts'
import { SocketPanel } from './SocketPanel.tsx'

interface Props {
  rig: Rig
  show: Show
  box: string
  load: BoxLoad
}

export function Sockets({ rig, show, box, load }: Props) {
  const chosen = useRigChoice(s => s.socket)
  const unit = useLengthUnit()
  const kit = show.kits[show.tonight]!
  const owned = rig.boxes[box]!
  const out = kit.boxes[box]!
  const entries = useMemo(() => patch(rig, kit).entries.filter(e => e.box === box), [rig, kit, box])
  const advice = useMemo(
    () => socketsAdvice(rig, kit).filter(a => a.place.boxes?.includes(box)),
    [rig, kit, box],
  )
  return (
    <table className="sockets">
      <caption className="sr">Sockets of {owned.name}</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="sr">Socket</span>
          </th>
          <th scope="col">Fixture</th>
          <th scope="col">Address</th>
          <th scope="col">Cable</th>
          <th scope="col">Amps</th>
          <th scope="col" title="With everything on: a dimmed light still draws its full current, in pulses">
            At the light
          </th>
        </tr>
      </thead>
      <tbody>
        {owned.sockets.map(socket => {
          const stand = out.sockets[socket.id]
          const fixture = stand && rig.fixtures[stand.fixture]
          const build = fixture && rig.builds[fixture.build]
          const light = load.sockets.find(s => s.socket === socket.id)
          const entry = entries.find(e => e.socket === socket.id)
          const isChosen = socket.id === chosen
          const { cable } = socket
          const slack = stand ? reachOf(out.place, stand.place, cable.length).slack : 0
          const notable = light ? notableText(light.at) : null
          const told = advice.find(a => a.place.socket === socket.id)
          const name = fixture?.name ?? (stand ? 'Not in the rig' : 'Free')
          const words = [
            ...(slack < 0 ? [`The cable is ${lengthText(-slack, unit)} too short.`] : []),
            ...(notable ? [`At the light: ${notable}.`] : []),
            ...(told ? [`${told.says} ${told.remedy}`] : []),
          ]
          return (
            <Fragment key={socket.id}>
              <tr className={isChosen ? 'chosen' : ''}>
                <th scope="row">{socket.label}</th>
                <td className="fixture">
                  <button
                    type="button"
                    aria-expanded={isChosen}
                    aria-label={`Socket ${socket.label}: ${name}`}
                    onClick={() => (isChosen ? chooseBox(box) : chooseSocket(box, socket.id))}
                  >
                    {build && <BuildSign shape={build.shape} />}
                    <span className={stand?.missing ? 'missing' : ''}>{name}</span>
                    {stand?.missing && <em>missing</em>}
                  </button>
                </td>
                <td>{entry ? rangeText(entry.address, entry.slots) : ''}</td>
                <td className={slack < 0 ? 'heed' : ''}>
                  {slack < 0 && <Sign name="specs" />}
                  {lengthText(cable.length, unit)}, {wireText(cable.wire)}
                </td>
                <td className={light && light.faults.length > 0 ? 'heed' : ''}>
                  {light && light.faults.length > 0 && <Sign name="specs" />}
                  {light?.amps.toFixed(1)}
                </td>
                <td className={notable ? 'heed' : ''}>
                  {notable && <Sign name="specs" />}
                  {light && light.amps > 0 ? `${light.at.volts.toFixed(1)} V` : ''}
                </td>
              </tr>
              {isChosen && (
                <tr className="opened">
                  <td colSpan={6}>
                    {words.length > 0 && (
                      <ul className="faults">
                        {words.map(text => (
                          <li key={text}>
                            <Sign name="specs" />
                            {text}
                          </li>
                        ))}
                      </ul>
                    )}
                    <SocketPanel {...{ rig, show, box, socket, light }} />
                  </td>
                </tr>
              )}
            </Fragment>
          )
        })}
      </tbody>
    </table>
  )
}
