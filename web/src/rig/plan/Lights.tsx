// The lights on the plan, each a button: choose it, drag it, or move it by the arrows.

import type { KeyboardEvent, PointerEvent } from 'react'
import { chooseGuest, chooseSocket } from '../choice.ts'
import { type LengthUnit, lengthText } from '../length.ts'
import { FromAbove } from './FromAbove.tsx'
import type { Thing } from './things.ts'
import { type PlanView, xOf, yOf } from './view.ts'

/** What `useMoving` gives each thing. */
export type Handlers = (thing: Thing) => {
  onPointerDown(event: PointerEvent): void
  onPointerMove(event: PointerEvent): void
  onPointerUp(): void
  onPointerCancel(): void
  onKeyDown(event: KeyboardEvent): void
  onBlur(): void
}

interface Props {
  view: PlanView
  things: readonly Thing[]
  box: string | null
  socket: string | null
  guest: string | null
  unit: LengthUnit
  handlers: Handlers
}

export function Lights({ view, things, box, socket, guest, unit, handlers }: Props) {
  return (
    <ul className="plan-lights" aria-label="Lights on the stage">
      {things.map(thing => {
        if (thing.kind === 'box') return null
        const isChosen =
          thing.kind === 'stand' ? thing.box === box && thing.socket === socket : thing.guest === guest
        const isMissing = thing.kind === 'stand' && thing.stand.missing === true
        const turn = thing.kind === 'stand' ? thing.stand.turn : thing.turn
        const state = `${isChosen ? ' chosen' : ''}${isMissing ? ' missing' : ''}`
        const half = Math.max(14, Math.min(60, (thing.build.size.long * view.metre) / 2 + 4))
        const wide = thing.build.shape === 'tube' || thing.build.shape === 'bulb' ? 14 : half
        return (
          <li
            key={thing.key}
            className={`plan-light${state}`}
            style={{ left: xOf(view, thing.place.x), top: yOf(view, thing.place.y) }}
          >
            <button
              type="button"
              style={{ width: wide * 2 }}
              aria-label={`${thing.name}, ${whereText(thing.place, unit)}${isMissing ? ', missing tonight' : ''}`}
              aria-description="Arrows move it by 10 cm"
              aria-pressed={isChosen}
              onClick={() =>
                thing.kind === 'stand' ? chooseSocket(thing.box, thing.socket) : chooseGuest(thing.guest)
              }
              {...handlers(thing)}
            >
              <svg width="2" height="2" viewBox="-1 -1 2 2" aria-hidden="true">
                <FromAbove build={thing.build} turn={turn} metre={view.metre} />
              </svg>
            </button>
            {(!view.compact || isChosen) && (
              <span className="name" aria-hidden="true">
                {thing.name}
              </span>
            )}
          </li>
        )
      })}
    </ul>
  )
}

/** "1.5 m house left, 3 m upstage, 2.4 m high". */
export function whereText({ x, y, z }: Thing['place'], unit: LengthUnit): string {
  const across =
    Math.abs(x) < 0.025 ? 'centre' : `${lengthText(Math.abs(x), unit)} house ${x < 0 ? 'left' : 'right'}`
  const up = `${lengthText(y, unit)} upstage`
  return z > 0.025 ? `${across}, ${up}, ${lengthText(z, unit)} high` : `${across}, ${up}`
}
