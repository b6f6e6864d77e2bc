// The kit's universes on the left, what takes them on the right, and a line for each way out; a universe is dragged over.

import { type PointerEvent, useRef, useState } from 'react'
import { heardText, type Receiver } from './receivers.ts'
import { numberText, placeKey, wayTo } from './routes.ts'

/** Every row is as high, so that the lines know where they end; px. */
const ROW = 34

export interface Line {
  readonly universe: number
  readonly place: string
  /** `kept`: sent there last time, not now. */
  readonly state: 'sent' | 'failing' | 'kept'
}

interface Props {
  universes: readonly number[]
  receivers: readonly Receiver[]
  lines: readonly Line[]
  now: number
  /** A universe was let go over a number of a receiver. */
  onDrop: (universe: number, receiver: Receiver, number: number) => unknown
}

export function Board({ universes, receivers, lines, now, onDrop }: Props) {
  const drawing = useRef<SVGSVGElement>(null)
  const [held, setHeld] = useState<{ universe: number; x: number; y: number; over: string } | null>(null)
  const rows = receivers.flatMap(receiver => [
    { receiver, number: null, key: receiver.key },
    ...receiver.numbers.map(number => ({ receiver, number, key: placeKey(wayTo(receiver.host, number)) })),
  ])
  const height = Math.max(universes.length, rows.length) * ROW
  const middle = (index: number) => index * ROW + ROW / 2
  const curve = (from: number, x: number, y: number) => `M0 ${from} C${x / 2} ${from} ${x / 2} ${y} ${x} ${y}`

  /** The key of the number under the pointer; empty where there is none. */
  const overAt = ({ clientX, clientY }: PointerEvent): string =>
    document.elementFromPoint(clientX, clientY)?.closest<HTMLElement>('[data-number-of-receiver]')?.dataset
      .numberOfReceiver ?? ''
  const move = (universe: number, event: PointerEvent) => {
    const box = drawing.current!.getBoundingClientRect()
    const x = ((event.clientX - box.left) / box.width) * 100
    setHeld({ universe, x, y: event.clientY - box.top, over: overAt(event) })
  }
  const drop = (universe: number, event: PointerEvent) => {
    const over = overAt(event)
    const row = rows.find(({ key, number }) => number !== null && key === over)
    if (held && row && row.number !== null) onDrop(universe, row.receiver, row.number)
    setHeld(null)
  }
  return (
    <div className="board" style={{ gridAutoRows: height }}>
      <ol aria-label="Universes of the kit">
        {universes.map(universe => (
          <li
            key={universe}
            className="universe-handle"
            title="Drag it to where it goes"
            onPointerDown={event => {
              if (event.button !== 0) return
              event.currentTarget.setPointerCapture(event.pointerId)
              move(universe, event)
            }}
            onPointerMove={event => held && move(universe, event)}
            onPointerUp={event => drop(universe, event)}
            onPointerCancel={() => setHeld(null)}
          >
            Universe {universe}
          </li>
        ))}
      </ol>
      <svg ref={drawing} viewBox={`0 0 100 ${height}`} preserveAspectRatio="none" aria-hidden="true">
        {lines.map(({ universe, place, state }) => {
          const from = universes.indexOf(universe)
          const to = rows.findIndex(row => row.key === place)
          if (from < 0 || to < 0) return null
          return (
            <path key={`${universe} ${place}`} className={state} d={curve(middle(from), 100, middle(to))} />
          )
        })}
        {held && (
          <path className="held" d={curve(middle(universes.indexOf(held.universe)), held.x, held.y)} />
        )}
      </svg>
      <ol aria-label="What takes them">
        {rows.map(({ receiver, number, key }) =>
          number === null ? (
            <li key={key} className={`receiver${receiver.node?.silent || receiver.says ? ' failing' : ''}`}>
              <b>{receiver.name}</b>
              {receiver.node && <small>{heardText(receiver.node, now)}</small>}
            </li>
          ) : (
            <li
              key={key}
              className={`number${held?.over === key ? ' over' : ''}`}
              data-number-of-receiver={key}
            >
              {numberText(receiver.host.protocol, number)}
            </li>
          ),
        )}
      </ol>
    </div>
  )
}
