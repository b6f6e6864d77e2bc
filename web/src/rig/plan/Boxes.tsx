// The boxes on the plan: dragged by their body or moved by the arrows; their sockets are chosen and filled.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { chooseBox, chooseSocket } from '../choice.ts'
import type { LengthUnit } from '../length.ts'
import { badgeOf } from '../words.ts'
import { type Handlers, whereText } from './Lights.tsx'
import { socketGrid } from './sockets.ts'
import type { Thing } from './things.ts'
import { type PlanView, xOf, yOf } from './view.ts'

interface Props {
  rig: Rig
  kit: Kit
  view: PlanView
  things: readonly Thing[]
  box: string | null
  socket: string | null
  unit: LengthUnit
  handlers: Handlers
}

export function Boxes({ rig, kit, view, things, box: chosen, socket: socketChosen, unit, handlers }: Props) {
  return (
    <ul className="boxes-out" aria-label="Boxes on the stage">
      {things.map(thing => {
        const owned = thing.kind === 'box' ? rig.boxes[thing.box] : undefined
        if (thing.kind !== 'box' || !owned) return null
        const { box, place } = thing
        const grid = socketGrid(owned, view.compact)
        const stands = kit.boxes[box]!.sockets
        const x = xOf(view, place.x)
        // Beside it, outwards; inwards where the plan ends.
        const room = grid.width / 2 + 36
        const isRight = x < room || (x > view.width / 2 && x < view.width - room)
        return (
          <li
            key={thing.key}
            className={`box-out${box === chosen ? ' chosen' : ''}`}
            style={{
              left: x - grid.width / 2,
              top: yOf(view, place.y) - grid.height / 2,
              width: grid.width,
              height: grid.height,
            }}
          >
            <button
              type="button"
              className="body"
              aria-label={`${owned.name}, ${whereText(place, unit)}`}
              aria-description="Arrows move it by 10 cm"
              aria-pressed={box === chosen}
              onClick={() => chooseBox(box)}
              {...handlers(thing)}
            />
            <span
              className={`badge${isRight ? ' right' : ''}${view.compact ? ' on' : ''}`}
              aria-hidden="true"
            >
              {badgeOf(owned.name)}
            </span>
            {!view.compact &&
              owned.sockets.map((socket, i) => {
                const stand = stands[socket.id]
                const name = stand ? (rig.fixtures[stand.fixture]?.name ?? 'unknown') : 'free'
                const isChosen = box === chosen && socket.id === socketChosen
                return (
                  <button
                    key={socket.id}
                    type="button"
                    tabIndex={-1}
                    className={`socket${stand ? '' : ' free'}${isChosen ? ' chosen' : ''}`}
                    data-box={box}
                    data-socket={socket.id}
                    aria-label={`${owned.name}, socket ${socket.label}: ${name}`}
                    title={`Socket ${socket.label}: ${name}`}
                    style={{ left: grid.width / 2 + grid.at[i]!.x, top: grid.height / 2 + grid.at[i]!.y }}
                    onClick={() => chooseSocket(box, socket.id)}
                  >
                    <span aria-hidden="true">{socket.label}</span>
                  </button>
                )
              })}
          </li>
        )
      })}
    </ul>
  )
}
