// The stage's outline with its scale, a metre (or two feet) a line, and the key to the lines of the cables.

import { FOOT, type LengthUnit } from '../length.ts'
import { type PlanView, xOf, yOf } from './view.ts'

export function Ground({ view, unit }: { view: PlanView; unit: LengthUnit }) {
  const { stage } = view
  const step = unit === 'metres' ? 1 : 2 * FOOT
  const across = Array.from({ length: Math.floor(stage.width / step + 1e-9) + 1 }, (_, i) => i * step)
  const deep = Array.from({ length: Math.floor(stage.depth / step + 1e-9) }, (_, i) => (i + 1) * step)
  const [left, right] = [xOf(view, -stage.width / 2), xOf(view, stage.width / 2)]
  const [back, front] = [yOf(view, stage.depth), yOf(view, 0)]
  const number = (metres: number) => (unit === 'metres' ? metres : Math.round(metres / FOOT))
  return (
    <g className="ground">
      <path className="floor" d={`M${left} ${back}H${right}V${front}H${left}Z`} />
      <path className="edge" d={`M${left} ${front}H${right}`} />
      {across.map((metres, i) => (
        <g key={metres}>
          <path className="line" d={`M${left + metres * view.metre} ${back}V${front}`} />
          <path className="tick" d={`M${left + metres * view.metre} ${back}v-6`} />
          <text x={left + metres * view.metre} y={back - 10} textAnchor="middle">
            {number(metres)}
            {i === across.length - 1 && (unit === 'metres' ? ' m' : ' ft')}
          </text>
        </g>
      ))}
      {deep.map(metres => (
        <path key={metres} className="line" d={`M${left} ${front - metres * view.metre}H${right}`} />
      ))}
      <text className="side" x={left + 12} y={front - 12}>
        Stage right
      </text>
      <text className="side" x={right - 12} y={front - 12} textAnchor="end">
        Stage left
      </text>
      <text className="side" x={(left + right) / 2} y={front + 22} textAnchor="middle">
        Audience
      </text>
    </g>
  )
}
