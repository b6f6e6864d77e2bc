// One line of a song on paper: its light in ink, with what is engraved over it.

import { bpmText } from '@glowchart/shared/paper/words.ts'
import type { Section } from '@glowchart/shared/show/song.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { useContext, useLayoutEffect, useMemo, useRef } from 'react'
import type { LookName } from '../../chart/cues.ts'
import type { Line } from '../../chart/lines.ts'
import { meterSignsOf, tempoSignsOf } from '../../chart/signs-in-time.ts'
import { askForInk } from '../ink/inkwell.ts'
import { Measuring } from '../measuring.ts'
import type { InkRow } from './ink-rows.ts'

interface Props {
  song: string
  line: Line
  section: Section
  timeline: Timeline
  looks: readonly LookName[]
  rows: readonly InkRow[]
  height: number
  barWidth: number
  /** Width of the field beside the gutter. */
  room: number
  ends: boolean
}

/** Device px a CSS px: 288 to the inch. */
const SCALE = 3
export const GUTTER = 98
const HEAD = 16

export function InkLine(props: Props) {
  const { line, section, timeline, looks, height, barWidth, room } = props
  const width = line.bars * barWidth
  const tempo = tempoSignsOf(timeline, line)
  // The head of the sheet has those of the song's start.
  const meter = line.firstBar === 0 ? [] : meterSignsOf(timeline, line)
  const bars = line.bars === 1 ? `${line.firstBar + 1}` : `${line.firstBar + 1}–${line.firstBar + line.bars}`
  return (
    <div className="ink-line" style={{ height: HEAD + height + 8, marginLeft: GUTTER }}>
      <div className="ink-gutter" style={{ left: -GUTTER, width: GUTTER - 8 }}>
        {line.first && <span className="mark">{line.section.mark}</span>}
        <span>
          {line.first && <b>{section.name}</b>}
          <small>
            {bars}
            {tempo
              .filter(sign => sign.at === 0)
              .map(({ says }) => ('bpm' in says ? `, ♩ = ${bpmText(says.bpm)}` : `, ${says.word}`))
              .join('')}
            {meter
              .filter(sign => sign.at === 0)
              .map(sign => `, ${sign.meter.beats}/${sign.meter.unit}`)
              .join('')}
          </small>
        </span>
      </div>
      <Ink {...props} top={HEAD} />
      <Engraved {...props} top={HEAD} />
      {looks.map((look, i) => (
        <span
          key={look.tick}
          className="ink-look"
          style={{
            left: look.at * barWidth + 1,
            // A name ends where the next begins.
            maxWidth: looks[i + 1] ? (looks[i + 1]!.at - look.at) * barWidth - 3 : undefined,
          }}
        >
          {look.name}
        </span>
      ))}
      {line.last && section.note && room - width > 120 && (
        <p
          className="pencil"
          style={{ left: width + 16, top: HEAD, width: room - width - 20, maxHeight: height }}
        >
          {section.note}
        </p>
      )}
    </div>
  )
}

/** The light: asked for once on its page, not while the page is measured. */
function Ink({ song, line, rows, height, barWidth, top }: Props & { top: number }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const isMeasuring = useContext(Measuring)
  const shape = useMemo(
    () => ({
      edges: line.edges,
      barWidth,
      rows: rows.map(({ y, height: tall, strands }) => ({ y, height: tall, strands })),
      height,
      pad: 0,
      bloom: 0,
      scale: SCALE,
    }),
    [line, barWidth, rows, height],
  )
  useLayoutEffect(() => {
    if (isMeasuring) return
    return askForInk(song, shape, picture => {
      const surface = canvas.current
      if (!surface) return
      surface.width = picture.width
      surface.height = picture.height
      surface.getContext('2d')?.drawImage(picture, 0, 0)
    })
  }, [song, shape, isMeasuring])
  return (
    <canvas
      ref={canvas}
      role="img"
      aria-label={`Light of bars ${line.firstBar + 1} to ${line.firstBar + line.bars}`}
      style={{ left: 0, top, width: line.bars * barWidth, height }}
    />
  )
}

/** Staff lines, barlines, brace, repeat signs and the song's end. */
function Engraved({ line, rows, height, barWidth, ends, top }: Props & { top: number }) {
  const width = line.bars * barWidth
  const foot = top + height
  const staves = rows.flatMap(row =>
    row.strands.map((_, i) => `M0 ${top + row.y + ((i + 0.5) * row.height) / row.strands.length}h${width}`),
  )
  const repeat = (x: number, way: 1 | -1) => (
    <g stroke="var(--bone)" fill="var(--bone)">
      <path d={`M${x} ${top}V${foot}`} strokeWidth="3" />
      <path d={`M${x + way * 4} ${top}V${foot}`} strokeWidth="1" />
      <circle cx={x + way * 8} cy={top + height / 2 - 6} r="1.8" stroke="none" />
      <circle cx={x + way * 8} cy={top + height / 2 + 6} r="1.8" stroke="none" />
    </g>
  )
  const { vamp } = line.section
  return (
    <svg className="engraved" width={width + 12} height={foot + 4} aria-hidden="true" overflow="visible">
      <path d={staves.join('')} stroke="var(--strand)" strokeWidth=".5" />
      {line.edges.slice(0, -1).map((edge, i) => (
        <path
          key={edge}
          d={`M${i * barWidth} ${top}V${foot}`}
          stroke="var(--bone)"
          strokeWidth={i % 4 === 0 ? 0.8 : 0.4}
          strokeOpacity={i % 4 === 0 ? 0.85 : 0.45}
        />
      ))}
      <path d={`M-4.5 ${top - 0.5}V${foot + 0.5}`} stroke="var(--bone)" strokeWidth="2.2" />
      <path
        d={`M-5.5 ${top - 0.5}c3-.4 4.500-1.800 5.500-3.600M-5.500 ${foot + 0.5}c3 .4 4.500 1.800 5.500 3.600`}
        stroke="var(--bone)"
        fill="none"
      />
      {vamp && line.first && repeat(1, 1)}
      {!line.last ? (
        <path d={`M${width} ${top}V${foot}`} stroke="var(--bone)" strokeWidth=".6" />
      ) : vamp ? (
        repeat(width - 1, -1)
      ) : ends ? (
        <path
          d={`M${width - 5} ${top}V${foot}M${width - 1} ${top}V${foot}m1 0V${top}`}
          stroke="var(--bone)"
          strokeWidth="1.6"
        />
      ) : (
        <path
          d={`M${width - 3} ${top}V${foot}M${width} ${top}V${foot}`}
          stroke="var(--bone)"
          strokeWidth=".8"
        />
      )}
    </svg>
  )
}
