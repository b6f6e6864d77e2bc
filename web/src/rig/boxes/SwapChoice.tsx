// Exchanging a light with another socket's: each keeps its own place on the stage; only the plugs change.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { editTogether, type Told } from '../../document/editing.ts'
import { chooseSocket } from '../choice.ts'

interface Props {
  rig: Rig
  show: Show
  box: string
  socket: string
}

export function SwapChoice({ rig, show, box, socket }: Props) {
  const kit = show.tonight
  const { boxes } = show.kits[kit]!
  const stand = boxes[box]!.sockets[socket]!
  const name = rig.fixtures[stand.fixture]?.name ?? stand.fixture
  const swap = (otherBox: string, otherSocket: string) => {
    const other = boxes[otherBox]?.sockets[otherSocket]
    const otherName = other ? rig.fixtures[other.fixture]?.name : undefined
    const told: Told[] = [['setStand', { kit, box: otherBox, socket: otherSocket, stand }]]
    if (other) told.push(['setStand', { kit, box, socket, stand: other }])
    void editTogether(otherName ? `Exchange ${name} and ${otherName}` : `Replug ${name}`, told)
    chooseSocket(otherBox, otherSocket)
  }
  return (
    <label className="field">
      Plug it elsewhere
      <select
        aria-label={`Plug ${name} into another socket`}
        value=""
        onChange={event => {
          const [toBox, toSocket] = event.target.value.split(' ')
          if (toBox && toSocket) swap(toBox, toSocket)
        }}
      >
        <option value="" disabled>
          Choose a socket…
        </option>
        {Object.keys(boxes).map(id => (
          <optgroup key={id} label={rig.boxes[id]?.name ?? id}>
            {rig.boxes[id]?.sockets
              .filter(s => id !== box || s.id !== socket)
              .map(s => {
                const there = boxes[id]!.sockets[s.id]
                const has = there ? `exchange with ${rig.fixtures[there.fixture]?.name ?? 'it'}` : 'free'
                return (
                  <option key={s.id} value={`${id} ${s.id}`}>
                    {s.label}: {has}
                  </option>
                )
              })}
          </optgroup>
        ))}
      </select>
    </label>
  )
}
