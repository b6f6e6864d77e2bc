// A strip as it is cut, drawn to scale: whole segments with their cutting marks, and what is left over.

import type { Cut } from '@glowchart/shared/power/draw.ts'
import { metres } from './words.ts'

const WIDTH = 600
const HEIGHT = 46
/** More marks than this run into one another. */
const MOST_MARKS = 120

export function Ruler({ cut, leds }: { cut: Cut; leds: number }) {
  const { segments, segmentMetres, over } = cut
  const length = cut.metres + over
  const x = (at: number) => (length > 0 ? 1 + (at / length) * (WIDTH - 2) : 1)
  const every = Math.max(1, Math.ceil(segments / MOST_MARKS))
  const marks = Array.from({ length: Math.floor(segments / every) + 1 }, (_, i) => i * every)
  // Less than a tenth of a millimetre is what arithmetic leaves, and no saw.
  const hasRest = over > 1e-4
  const says = `${segments} segments of ${metres(segmentMetres)}, ${leds} LEDs each: ${metres(cut.metres)}${
    hasRest ? `, ${metres(over)} left over` : ', nothing left over'
  }`
  return (
    <figure className="ruler">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`Cut list: ${says}`}>
        <defs>
          <pattern id="left-over" width="6" height="6" patternUnits="userSpaceOnUse">
            <path d="M-1 7 7-1" />
          </pattern>
        </defs>
        <rect className="strip" x={1} y={8} width={Math.max(0, x(cut.metres) - 1)} height={16} />
        {hasRest && (
          <rect className="over" x={x(cut.metres)} y={8} width={x(length) - x(cut.metres)} height={16} />
        )}
        {marks.map(i => (
          <path key={i} d={`M${x(i * segmentMetres)} ${i % (every * 10) === 0 ? 4 : 8}V24`} />
        ))}
        <path className="cut" d={`M${x(cut.metres)} 1V31`} />
        <text x={1} y={42}>
          0
        </text>
        <text x={Math.min(WIDTH - 4, Math.max(60, x(cut.metres)))} y={42} textAnchor="end">
          cut at {metres(cut.metres)}
        </text>
      </svg>
      <figcaption>{says}.</figcaption>
    </figure>
  )
}
