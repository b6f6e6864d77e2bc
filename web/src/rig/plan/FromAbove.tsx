// A light as it looks from above: a tube end on, a ring or letters edge on, a bar or panel flat.

import type { Build } from '@glowchart/shared/rig/schema.ts'

interface Props {
  build: Build
  /** Degrees in the plane seen from the house: 0 is upright for a tube. */
  turn: number
  metre: number
}

/** Drawn about its own middle. */
export function FromAbove({ build, turn, metre }: Props) {
  const long = build.size.long * metre
  const angle = (turn * Math.PI) / 180
  switch (build.shape) {
    case 'bulb':
      return (
        <>
          <circle className="body" r={Math.max(5, long / 2)} />
          <path className="rim" d={`M0 ${-Math.max(5, long / 2)}v-5`} />
        </>
      )
    case 'tube': {
      const lies = long * Math.abs(Math.sin(angle))
      if (lies > 14) return <Rod long={lies} thick={Math.max(6, build.size.across * metre)} />
      return (
        <>
          <circle className="body" r={5} />
          <circle className="rim" r={10} />
        </>
      )
    }
    case 'letters':
      return (
        <>
          <text
            className="letter"
            y={8}
            fontSize={Math.max(13, Math.min(26, long * 0.4))}
            textAnchor="middle"
          >
            {build.text || 'A'}
          </text>
          <path className="rim" d={`M${-long / 2} 13H${long / 2}`} />
        </>
      )
    case 'panel':
      return <Rod long={long} thick={Math.max(8, 0.08 * metre)} />
    default: {
      const seen = build.shape === 'ring' ? long : Math.max(8, long * Math.abs(Math.cos(angle)))
      return <Rod long={seen} thick={Math.max(5, Math.min(9, build.size.across * metre * 0.2))} />
    }
  }
}

const Rod = ({ long, thick }: { long: number; thick: number }) => (
  <rect className="body" x={-long / 2} y={-thick / 2} width={long} height={thick} rx={thick / 2} />
)
