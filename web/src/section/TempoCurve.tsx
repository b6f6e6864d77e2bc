// The tempo over a section, drawn from the song's own tempo map: level where it holds, slanted where it glides.

import { barStart } from '@glowchart/shared/time/meter.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import type { SectionSpan, Timeline } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { bpmScale } from './scales.ts'

const WIDTH = 282
const HEIGHT = 40
const TOP = 12
/** So much tempo at least fills the height, quarter notes a minute: a small change must not look like a great one. */
const LEAST = 12

export function TempoCurve({ timeline, span }: { timeline: Timeline; span: SectionSpan }) {
  const { start, end, firstBar, bars } = span
  const inside = timeline.tempo.filter(segment => segment.at > start && segment.at < end)
  const points: [number, number][] = [[start, bpmAt(timeline.tempo, start)]]
  for (const { at } of inside) {
    points.push([at, bpmAt(timeline.tempo, ticks(at - 1))], [at, bpmAt(timeline.tempo, at)])
  }
  points.push([end, bpmAt(timeline.tempo, ticks(end - 1))])
  const tempos = points.map(([, bpm]) => bpm)
  const low = Math.min(...tempos)
  const high = Math.max(...tempos)
  const middle = (low + high) / 2
  const range = Math.max(LEAST, high - low)
  const x = (tick: number): number => (WIDTH * (tick - start)) / (end - start)
  const y = (bpm: number): number => TOP + (HEIGHT - TOP - 2) * (0.5 - (bpm - middle) / range)
  const path = points.map(
    ([tick, bpm], i) => `${i === 0 ? 'M' : 'L'}${x(tick).toFixed(1)} ${y(bpm).toFixed(1)}`,
  )
  const barlines = Array.from({ length: bars }, (_, i) => x(barStart(timeline.meters, firstBar + i)))
  const said = (bpm: number): string => bpmScale.text(Math.round(bpm * 10) / 10)
  const [first, last] = [tempos[0]!, tempos.at(-1)!]
  return (
    <svg
      className="tempo-curve"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={
        high - low < 0.05
          ? `Tempo ${said(first)} throughout`
          : `Tempo from ${said(first)} to ${said(last)}, between ${said(low)} and ${said(high)}`
      }
    >
      <path className="bars" d={barlines.map(at => `M${at.toFixed(1)} ${TOP}V${HEIGHT}`).join('')} />
      <path className="line" d={path.join('')} />
      <text x="0" y="9">{`♩ = ${said(first)}`}</text>
      {high - low >= 0.05 && (
        <text x={WIDTH} y="9" textAnchor="end">
          {said(last)}
        </text>
      )}
    </svg>
  )
}
