// Cables from their sockets to their lights: width by cross-section, dashed overhead, what is too short in red words.

import { areaOf } from '@glowchart/shared/power/wire.ts'
import { OVERHEAD, reachOf } from '@glowchart/shared/rig/reach.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { type LengthUnit, lengthText } from '../length.ts'
import { socketGrid } from './sockets.ts'
import type { Thing } from './things.ts'
import { type PlanView, xOf, yOf } from './view.ts'

interface Props {
  rig: Rig
  view: PlanView
  things: readonly Thing[]
  unit: LengthUnit
  /** The chosen box, and the chosen socket of it. */
  box: string | null
  socket: string | null
  showsLengths: boolean
}

interface Drawn {
  readonly key: string
  readonly state: string
  readonly start: Point
  readonly end: Point
  readonly width: number
  readonly isOverhead: boolean
  /** Null where its length is not said. */
  readonly says: string | null
}

function drawn({ rig, view, things, unit, box, socket, showsLengths }: Props): Drawn[] {
  const boxes = new Map(things.flatMap(t => (t.kind === 'box' ? [[t.box, t.place] as const] : [])))
  const cables = things.flatMap(thing => {
    const from = thing.kind === 'stand' ? boxes.get(thing.box) : undefined
    const owned = thing.kind === 'stand' ? rig.boxes[thing.box] : undefined
    if (thing.kind !== 'stand' || !from || !owned) return []
    const index = owned.sockets.findIndex(s => s.id === thing.socket)
    const at = socketGrid(owned, view.compact).at[index]!
    const { cable } = owned.sockets[index]!
    const { slack } = reachOf(from, thing.place, cable.length)
    const isOurs = thing.box === box
    const isChosen = isOurs && thing.socket === socket
    const isSaid = showsLengths || slack < 0 || (view.compact ? isChosen : isOurs)
    const length = slack < 0 ? `${lengthText(-slack, unit)} too short` : lengthText(cable.length, unit)
    const one: Drawn = {
      key: thing.key,
      state: `${isOurs ? ' ours' : ''}${isChosen ? ' chosen' : ''}${slack < 0 ? ' short' : ''}`,
      start: { x: xOf(view, from.x) + at.x, y: yOf(view, from.y) + at.y },
      end: { x: xOf(view, thing.place.x), y: yOf(view, thing.place.y) },
      width: Math.min(4, 0.6 + areaOf(cable.wire) * 0.9) + (isChosen ? 0.8 : 0),
      isOverhead: thing.place.z > OVERHEAD,
      says: isSaid ? length : null,
    }
    return [{ one, over: Number(isOurs) + Number(isChosen) }]
  })
  // What is chosen lies over the others.
  return cables.sort((a, b) => a.over - b.over).map(({ one }) => one)
}

export function Cables(props: Props) {
  return (
    <g className="cables">
      {drawn(props).map(({ key, state, start, end, width, isOverhead }) => (
        <g key={key} className={`cable${state}`}>
          <path d={curve(start, end)} strokeWidth={width} strokeDasharray={isOverhead ? '6 4' : undefined} />
        </g>
      ))}
    </g>
  )
}

/** Their lengths, to lie over the names of the lights. */
export function CableLengths(props: Props) {
  return (
    <g className="cables">
      {drawn(props).map(
        ({ key, state, start, end, says }) =>
          says !== null && (
            <g key={key} className={`cable${state}`}>
              <Label x={end.x * 0.72 + start.x * 0.28} y={end.y * 0.72 + start.y * 0.28} text={says} />
            </g>
          ),
      )}
    </g>
  )
}

interface Point {
  readonly x: number
  readonly y: number
}

/** Leaves the box and meets the light upright, as a cable hangs off both. */
function curve(start: Point, end: Point): string {
  const way = end.y < start.y ? -1 : 1
  const reach = Math.abs(end.y - start.y)
  const out = start.y + way * Math.min(46, reach * 0.7 + 12)
  const back = end.y - way * Math.min(50, reach * 0.5)
  return `M${start.x} ${start.y}C${start.x} ${out} ${end.x} ${back} ${end.x} ${end.y}`
}

function Label({ x, y, text }: Point & { text: string }) {
  const width = text.length * 5.7 + 10
  return (
    <g className="length">
      <rect x={x - width / 2} y={y - 8} width={width} height={16} />
      <text x={x} y={y + 4} textAnchor="middle">
        {text}
      </text>
    </g>
  )
}
