// One socket opened: where its light stands, what is set for tonight, its cable's slack and its fuse; swap and remove.

import type { SocketLoad } from '@glowchart/shared/power/box.ts'
import { reachOf } from '@glowchart/shared/rig/reach.ts'
import type { Rig, Socket } from '@glowchart/shared/rig/schema.ts'
import type { Show, Stand } from '@glowchart/shared/show/schema.ts'
import { shareScale } from '../../cue/values.ts'
import { editTogether } from '../../document/editing.ts'
import { Figure } from '../../ui/Figure.tsx'
import { lengthText, useLengthUnit } from '../length.ts'
import { FillChoice } from './FillChoice.tsx'
import { fuseText } from './fuse.ts'
import { PartChoice } from './PartChoice.tsx'
import { PlaceFigures } from './PlaceFigures.tsx'
import { SwapChoice } from './SwapChoice.tsx'

interface Props {
  rig: Rig
  show: Show
  box: string
  socket: Socket & { id: string }
  light: SocketLoad | undefined
}

const orders = ['rgb', 'rbg', 'grb', 'gbr', 'brg', 'bgr'] as const

export function SocketPanel({ rig, show, box, socket, light }: Props) {
  const unit = useLengthUnit()
  const kit = show.tonight
  const out = show.kits[kit]!.boxes[box]!
  const stand = out.sockets[socket.id]
  const fixture = stand && rig.fixtures[stand.fixture]
  if (!stand || !fixture) {
    return (
      <div className="socket-panel">
        <p className="caution">
          {stand
            ? 'What stands here is not in the rig. Press a build to put another in.'
            : 'Nothing is plugged in. Put one in:'}
        </p>
        {!stand && <FillChoice {...{ rig, kit: show.kits[kit]!, box, socket: socket.id }} />}
        {stand && <Remove {...{ kit, box, socket: socket.id, name: stand.fixture }} />}
      </div>
    )
  }
  const { name } = fixture
  const set = (says: string, next: Stand) =>
    editTogether(says, [['setStand', { kit, box, socket: socket.id, stand: next }]])
  const reach = reachOf(out.place, stand.place, socket.cable.length)
  const { swap, missing, ...plain } = stand
  return (
    <div className="socket-panel">
      <div className="figures">
        <PlaceFigures
          name={name}
          place={stand.place}
          turn={stand.turn}
          stage={show.kits[kit]!.stage}
          onPlace={place => set(`Move ${name}`, { ...stand, place })}
          onTurn={turn => set(`Turn ${name}`, { ...stand, turn })}
        />
        <Figure
          {...shareScale}
          label={`Level of ${name} tonight`}
          short="Level tonight"
          value={stand.trim}
          onChange={trim => set(`Level of ${name} tonight`, { ...stand, trim })}
        />
      </div>
      <dl>
        <div className={reach.slack < 0 ? 'heed' : ''}>
          <dt>Cable</dt>
          <dd>
            {lengthText(reach.run, unit)} along the floor and {lengthText(reach.rise, unit)} up;{' '}
            {reach.slack < 0
              ? `${lengthText(-reach.slack, unit)} too short`
              : `${lengthText(reach.slack, unit)} of ${lengthText(socket.cable.length, unit)} left`}
          </dd>
        </div>
        {light && light.amps > 0 && (
          <div>
            <dt>Fuse</dt>
            <dd>{fuseText(light, socket.fuse)}</dd>
          </div>
        )}
      </dl>
      <PartChoice show={show} fixture={stand.fixture} name={name} />
      <div className="row">
        <label className="field">
          Colours tonight
          <select
            aria-label={`Colour order of ${name} tonight`}
            value={swap ?? 'rgb'}
            onChange={event => {
              const order = orders.find(o => o === event.target.value)
              const kept = { ...plain, ...(missing && { missing }) }
              void set(
                `Colours of ${name} tonight`,
                order && order !== 'rgb' ? { ...kept, swap: order } : kept,
              )
            }}
          >
            {orders.map(order => (
              <option key={order} value={order}>
                {order === 'rgb' ? 'as built' : `exchanged: ${order.toUpperCase()}`}
              </option>
            ))}
          </select>
        </label>
        <SwapChoice {...{ rig, show, box, socket: socket.id }} />
      </div>
      <div className="row">
        <label className="check">
          <input
            type="checkbox"
            checked={missing === true}
            onChange={event => {
              const kept = { ...plain, ...(swap && { swap }) }
              void (event.target.checked
                ? set(`${name} missing tonight`, { ...kept, missing: true })
                : set(`${name} is back`, kept))
            }}
          />
          Missing tonight
        </label>
        <Remove {...{ kit, box, socket: socket.id, name }} />
      </div>
    </div>
  )
}

function Remove({ kit, box, socket, name }: { kit: string; box: string; socket: string; name: string }) {
  return (
    <button
      type="button"
      className="btn quiet"
      onClick={() => editTogether(`Unplug ${name}`, [['removeStand', { kit, box, socket }]])}
    >
      Unplug it
    </button>
  )
}
