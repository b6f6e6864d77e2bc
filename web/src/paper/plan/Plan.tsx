// The plan of the stage from above, in ink: lights by their plugs, boxes with their sockets, cables, both scales.

import { metresText } from '@glowchart/shared/paper/words.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { useMemo } from 'react'
import { acrossOf, downOf, type Frame, frameOf } from './frame.ts'
import { type PlottedBox, type PlottedLight, plotOf } from './plot.ts'

interface Props {
  rig: Rig
  kit: Kit
  /** Px. */
  width: number
  /** The most it may be high, px. */
  most: number
  heights?: boolean
}

/** International foot, m (1959 agreement, exact). */
const FOOT = 0.3048
const INK = 'var(--bone)'
const QUIET = 'var(--bone-3)'
const LINE = 'var(--rule-strong)'

export function Plan({ rig, kit, width, most, heights = false }: Props) {
  const frame = useMemo(() => frameOf(kit, width, most), [kit, width, most])
  const plot = useMemo(() => plotOf(rig, kit, frame, heights), [rig, kit, frame, heights])
  return (
    <svg
      className="plan"
      role="img"
      aria-label={`The stage from above, ${metresText(kit.stage.width)} by ${metresText(kit.stage.depth)}`}
      width={frame.width}
      height={frame.height}
      viewBox={`0 0 ${frame.width} ${frame.height}`}
    >
      <StageEdges kit={kit} frame={frame} />
      {plot.cables.map(({ key, path, overhead, width: thick }) => (
        <path
          key={key}
          d={path}
          fill="none"
          stroke={LINE}
          strokeWidth={thick}
          strokeDasharray={overhead ? '5 3' : undefined}
        />
      ))}
      {plot.lights.map(light => (
        <LightSymbol key={light.id} light={light} />
      ))}
      {plot.boxes.map(box => (
        <BoxSymbol key={box.id} box={box} />
      ))}
      {plot.lights.map(({ id, label, room }) => (
        <text key={id} textAnchor="middle" className="plan-label">
          {label.map((line, i) => (
            <tspan
              key={line}
              x={room.x + room.width / 2}
              y={room.y + 9 + i * 11}
              fontWeight={i === 0 ? 700 : 400}
            >
              {line}
            </tspan>
          ))}
        </text>
      ))}
    </svg>
  )
}

/** The stage's outline; metres from the centre line and the front edge at the back and left, feet at the front and right. */
function StageEdges({ kit, frame }: { kit: Kit; frame: Frame }) {
  const { width, depth } = kit.stage
  const left = acrossOf(-width / 2, frame)
  const right = acrossOf(width / 2, frame)
  const back = downOf(depth, frame)
  const front = downOf(0, frame)
  const middle = acrossOf(0, frame)
  const half = Math.floor(width / 2)
  const metres = Array.from({ length: 2 * half + 1 }, (_, i) => i - half)
  const deep = Array.from({ length: Math.floor(depth) }, (_, i) => i + 1)
  const every = width > 18 ? 10 : 5
  const feetAcross = steps(Math.floor(width / 2 / FOOT / every), every)
  const feetDeep = Array.from({ length: Math.floor(depth / FOOT / every) }, (_, i) => (i + 1) * every)
  return (
    <g fill="none" stroke={INK}>
      <rect x={left} y={back} width={right - left} height={front - back} strokeWidth="1.2" />
      <path d={`M${left} ${front}H${right}`} strokeWidth="2.4" />
      <path d={`M${middle} ${back}V${front}`} stroke={LINE} strokeWidth=".7" strokeDasharray="9 3 2 3" />
      <path
        stroke={QUIET}
        strokeWidth=".8"
        d={[
          ...metres.map(x => `M${acrossOf(x, frame)} ${back}v-5`),
          ...deep.map(y => `M${left} ${downOf(y, frame)}h-5`),
          ...feetAcross.map(x => `M${acrossOf(x * FOOT, frame)} ${front}v5`),
          ...feetDeep.map(y => `M${right} ${downOf(y * FOOT, frame)}h5`),
        ].join('')}
      />
      <g fill={QUIET} stroke="none" className="plan-scale">
        {metres.map(x => (
          <text key={x} x={acrossOf(x, frame)} y={back - 8} textAnchor="middle">
            {Math.abs(x)}
            {x === half ? ' m' : ''}
          </text>
        ))}
        {deep.map(y => (
          <text key={`deep${y}`} x={left - 8} y={downOf(y, frame) + 4} textAnchor="end">
            {y}
          </text>
        ))}
        {feetAcross.map(x => (
          <text key={`ft${x}`} x={acrossOf(x * FOOT, frame)} y={front + 16} textAnchor="middle">
            {Math.abs(x)}
            {x === feetAcross.at(-1) ? ' ft' : ''}
          </text>
        ))}
        {feetDeep.map(y => (
          <text key={`ftdeep${y}`} x={right + 8} y={downOf(y * FOOT, frame) + 4}>
            {y}
          </text>
        ))}
        <text x={left + 6} y={front - 7}>
          Stage right
        </text>
        <text x={right - 6} y={front - 7} textAnchor="end">
          Stage left
        </text>
        <text x={middle} y={front + 31} textAnchor="middle">
          Audience
        </text>
      </g>
    </g>
  )
}

const steps = (n: number, by: number): number[] => Array.from({ length: 2 * n + 1 }, (_, i) => (i - n) * by)

/** What a light looks like from above. */
function LightSymbol({ light }: { light: PlottedLight }) {
  const { x, y, half, upright, build } = light
  if (upright) {
    return (
      <g stroke={INK} fill="var(--ground)">
        <circle cx={x} cy={y} r="6.5" strokeWidth="1.2" />
        <circle cx={x} cy={y} r="2.5" fill={INK} stroke="none" />
      </g>
    )
  }
  if (build.shape === 'bulb') {
    return (
      <g stroke={INK} fill="var(--ground)" strokeWidth="1.3">
        <circle cx={x} cy={y + 2} r="4.5" />
        <path d={`M${x} ${y - 2.5}v-4`} />
      </g>
    )
  }
  if (build.shape === 'letters') {
    return (
      <g>
        <rect x={x - half} y={y - 11} width={2 * half} height="22" fill="var(--ground)" />
        <text
          className="plan-letters"
          x={x}
          y={y + 7}
          textAnchor="middle"
          textLength={(build.text ?? '').length > 1 ? 2 * half : undefined}
        >
          {build.text || 'Aa'}
        </text>
      </g>
    )
  }
  const thick = build.shape === 'panel' ? 9 : 4.5
  return (
    <g>
      <path
        d={`M${x - half} ${y}h${2 * half}`}
        stroke={INK}
        strokeWidth={thick}
        strokeLinecap={build.shape === 'panel' ? 'butt' : 'round'}
      />
      {build.shape === 'ring' && <circle cx={x} cy={y} r="2.2" fill="var(--ground)" stroke={INK} />}
    </g>
  )
}

function BoxSymbol({ box }: { box: PlottedBox }) {
  const { area, badge, badgeX, sockets } = box
  const middle = area.y + area.height / 2
  return (
    <g>
      <rect {...area} fill="var(--ground)" stroke={INK} strokeWidth="1.4" />
      {sockets.map(({ label, used, x, y }) => (
        <g key={label}>
          <circle
            cx={x}
            cy={y}
            r="7"
            fill="var(--ground)"
            stroke={INK}
            strokeWidth=".8"
            strokeDasharray={used ? undefined : '1.5 1.5'}
          />
          {used && (
            <text x={x} y={y + 3.7} textAnchor="middle" className="plan-socket">
              {label.slice(0, 2)}
            </text>
          )}
        </g>
      ))}
      <circle cx={badgeX} cy={middle} r="10" fill={INK} />
      <text x={badgeX} y={middle + 4.3} textAnchor="middle" className="plan-badge">
        {badge}
      </text>
    </g>
  )
}
