// Cables from their sockets to their lights: width by cross-section, dashed overhead, what is too short in red words.

import { areaOf } from '@glowchart/shared/power/wire.ts'
import { reachOf } from '@glowchart/shared/rig/reach.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { type LengthUnit, lengthText } from '../length.ts'
import { socketGrid } from './sockets.ts'
import type { Thing } from './things.ts'
import { type PlanView, xOf, yOf } from './view.ts'

/** Cables to lights higher than this run overhead, m: above the reach of most heads and hands. */
export const OVERHEAD = 2

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

export function Cables({ rig, view, things, unit, box, socket, showsLengths }: Props) {
  const boxes = new Map(things.flatMap(t => (t.kind === 'box' ? [[t.box, t.place] as const] : [])))
  const cables = things.flatMap(thing => {
    const from = thing.kind === 'stand' ? boxes.get(thing.box) : undefined
    const owned = thing.kind === 'stand' ? rig.boxes[thing.box] : undefined
    if (thing.kind !== 'stand' || !from || !owned) return []
    const index = owned.sockets.findIndex(s => s.id === thing.socket)
    const at = socketGrid(owned, view.compact).at[index]!
    const { cable } = owned.sockets[index]!
    const reach = reachOf(from, thing.place, cable.length)
    const isOurs = thing.box === box
    const isChosen = isOurs && thing.socket === socket
    return [{ thing, cable, reach, isOurs, isChosen, at, from }]
  })
  // What is chosen lies over the others.
  cables.sort((a, b) => Number(a.isOurs) - Number(b.isOurs) || Number(a.isChosen) - Number(b.isChosen))
  return (
    <g className="cables">
      {cables.map(({ thing, cable, reach, isOurs, isChosen, at, from }) => {
        const start = { x: xOf(view, from.x) + at.x, y: yOf(view, from.y) + at.y }
        const end = { x: xOf(view, thing.place.x), y: yOf(view, thing.place.y) }
        const state = `${isOurs ? ' ours' : ''}${isChosen ? ' chosen' : ''}${reach.slack < 0 ? ' short' : ''}`
        const says = showsLengths || reach.slack < 0 || (view.compact ? isChosen : isOurs)
        return (
          <g key={thing.key} className={`cable${state}`}>
            <path
              d={curve(start, end)}
              strokeWidth={Math.min(4, 0.6 + areaOf(cable.wire) * 0.9) + (isChosen ? 0.8 : 0)}
              strokeDasharray={thing.place.z > OVERHEAD ? '6 4' : undefined}
            />
            {says && (
              <Label
                x={end.x * 0.72 + start.x * 0.28}
                y={end.y * 0.72 + start.y * 0.28}
                text={
                  reach.slack < 0
                    ? `${lengthText(-reach.slack, unit)} too short`
                    : lengthText(cable.length, unit)
                }
              />
            )}
          </g>
        )
      })}
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
