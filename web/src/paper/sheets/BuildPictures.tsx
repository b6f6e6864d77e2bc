// Drawings for a build sheet: the fixture to scale with its measures, and its plug from the solder side.

import { feetText, metresText } from '@glowchart/shared/paper/words.ts'
import { plugOf } from '@glowchart/shared/rig/build-plug.ts'
import type { Build } from '@glowchart/shared/rig/schema.ts'

const WIDTH = 300
const HEIGHT = 240
const ROOM = 46

/** Outline with cells, and the two measures; a tube and a bulb stand upright. */
export function BuildPicture({ build }: { build: Build }) {
  const { size, shape } = build
  const stands = shape === 'tube' || shape === 'bulb'
  const [wide, high] = stands ? [size.across, size.long] : [size.long, size.across]
  const metre = Math.min((WIDTH - 2 * ROOM) / wide, (HEIGHT - 2 * ROOM) / high)
  const w = Math.max(5, wide * metre)
  const h = Math.max(5, high * metre)
  const x = (WIDTH - w) / 2
  const y = (HEIGHT - ROOM - h) / 2 + 6
  const foot = y + h + 12
  const side = x + w + 12
  return (
    <svg
      overflow="visible"
      width={WIDTH}
      height={HEIGHT}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`${build.name}, ${metresText(size.long)} by ${metresText(size.across)}`}
    >
      <g fill="none" stroke="var(--bone)" strokeWidth="1.4">
        <Outline build={build} x={x} y={y} w={w} h={h} stands={stands} />
      </g>
      <g stroke="var(--bone-3)" strokeWidth=".8" fill="none">
        <path d={`M${x} ${foot}v8M${x + w} ${foot}v8M${x} ${foot + 4}h${w}`} />
        <path d={`M${side} ${y}h8M${side} ${y + h}h8M${side + 4} ${y}v${h}`} />
      </g>
      <g className="plan-scale" fill="var(--bone-2)">
        <text x={x + w / 2} y={foot + 20} textAnchor="middle">
          {metresText(wide)} ({feetText(wide)})
        </text>
        <text x={side + 12} y={y + h / 2 + 4}>
          {metresText(high)}
        </text>
        <text x={side + 12} y={y + h / 2 + 16}>
          {feetText(high)}
        </text>
      </g>
    </svg>
  )
}

interface OutlineProps {
  build: Build
  x: number
  y: number
  w: number
  h: number
  stands: boolean
}

function Outline({ build, x, y, w, h, stands }: OutlineProps) {
  const { shape, cells, text } = build
  if (shape === 'bulb' || shape === 'ring') {
    const [cx, cy, r] = [x + w / 2, y + h / 2, Math.min(w, h) / 2]
    return (
      <>
        <circle cx={cx} cy={cy} r={r} />
        {shape === 'ring' && <circle cx={cx} cy={cy} r={r * 0.86} />}
        {shape === 'bulb' && <path d={`M${cx - r * 0.3} ${y - 1}v-10h${r * 0.6}v10`} />}
      </>
    )
  }
  if (shape === 'letters') {
    return (
      <>
        <rect x={x} y={y} width={w} height={h} strokeWidth=".6" strokeDasharray="3 3" />
        <text
          className="build-letters"
          x={x + w / 2}
          y={y + h * 0.93}
          style={{ fontSize: h * 1.2 }}
          textAnchor="middle"
          textLength={w * 0.94}
          lengthAdjust="spacingAndGlyphs"
        >
          {text || 'Aa'}
        </text>
      </>
    )
  }
  const rounded = shape === 'tube' || shape === 'line' ? Math.min(w, h) / 2 : 1
  const cuts = Array.from({ length: Math.min(cells, 60) - 1 }, (_, i) => (i + 1) / Math.min(cells, 60))
  return (
    <>
      <rect x={x} y={y} width={w} height={h} rx={rounded} />
      <path
        strokeWidth=".6"
        d={cuts
          .map(share => (stands ? `M${x} ${y + h * share}h${w}` : `M${x + w * share} ${y}v${h}`))
          .join('')}
      />
    </>
  )
}

const letterOf = { common: '+', red: 'R', green: 'G', blue: 'B', white: 'W', none: '–' } as const

/** The plug's contacts in order round it, clockwise from the top, seen from the side that is soldered. */
export function PlugPicture({ build }: { build: Build }) {
  const { contacts } = build
  const [cx, cy, ring] = [125, 100, 48]
  return (
    <svg
      width="250"
      height="210"
      viewBox="0 0 250 210"
      role="img"
      aria-label={`Plug from the solder side, clockwise: ${contacts.join(', ')}`}
    >
      <circle cx={cx} cy={cy} r={ring + 20} fill="none" stroke="var(--bone)" strokeWidth="1.4" />
      {plugOf(contacts).map(({ letter, joined, x: dx, y: dy }) => {
        const isCommon = joined === 'common'
        const [x, y] = [cx + dx * ring * 0.72, cy + dy * ring * 0.72]
        return (
          <g key={letter}>
            <circle
              cx={x}
              cy={y}
              r="12"
              fill={isCommon ? 'var(--bone)' : 'var(--ground)'}
              stroke="var(--bone)"
              strokeWidth="1.3"
            />
            <text
              x={x}
              y={y + 4.5}
              textAnchor="middle"
              className="plug-letter"
              fill={isCommon ? 'var(--ground)' : 'var(--bone)'}
            >
              {letterOf[joined]}
            </text>
            <text
              x={cx + dx * (ring + 24)}
              y={cy + dy * (ring + 24) + 4}
              textAnchor={Math.abs(dx) < 0.2 ? 'middle' : dx > 0 ? 'start' : 'end'}
              className="plan-scale"
              fill="var(--bone-2)"
            >
              {letter}: {joined}
            </text>
          </g>
        )
      })}
      <text x={cx} y="196" textAnchor="middle" className="plan-scale" fill="var(--bone-3)">
        from the solder side
      </text>
    </svg>
  )
}
