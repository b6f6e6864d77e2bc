// What is engraved on a line: staff lines under the light; barlines, brackets, hairpins and repeat signs over it.

import { Fragment } from 'react'
import type { CuePiece } from './cues.ts'
import type { PlacedLine } from './page.ts'
import { laneOf, type Row } from './rows.ts'

/** Staff lines: one a fixture; in a row too tight for them, every so many. */
export function Staves({ at, barWidth }: { at: PlacedLine; barWidth: number }) {
  const width = at.line.bars * barWidth
  const paths = at.rows.map(row => {
    const { strands, staves } = row.part
    const pitch = row.height / Math.max(1, strands.length)
    const every = Math.max(
      1,
      Math.ceil(2.6 / (pitch * Math.max(1, strands.length / Math.max(1, staves.length)))),
    )
    const shown = at.open ? staves.filter((_, i) => i % every === 0) : [strands.length / 2]
    return shown.map(s => `M0 ${Math.round(at.head + row.y + s * pitch - 0.5) + 0.5}h${width}`).join('')
  })
  return (
    <svg className="engraving" aria-hidden="true">
      <path d={paths.join('')} stroke="var(--strand)" fill="none" />
    </svg>
  )
}

interface Props {
  at: PlacedLine
  barWidth: number
  pieces: readonly CuePiece[]
  chosen: ReadonlySet<string>
  /** The song ends with this line. */
  ends: boolean
  /** Edges of the loop in bars from the line's start, where they lie on it. */
  loopFrom: number | null
  loopTo: number | null
}

export function Engraving({ at, barWidth, pieces, chosen, ends, loopFrom, loopTo }: Props) {
  const { line, open, head, rowsHeight } = at
  const width = line.bars * barWidth
  const foot = head + rowsHeight
  const { vamp } = line.section
  return (
    <svg className="engraving" aria-hidden="true">
      {line.edges.map((edge, i) =>
        open || i % 4 === 0 ? (
          <path
            key={edge}
            d={`M${i * barWidth + 0.5} ${head}V${foot}`}
            stroke="var(--bone)"
            strokeOpacity={open ? (i % 4 === 0 ? 0.34 : 0.15) : 0.22}
          />
        ) : null,
      )}
      {open &&
        at.rows.map(row => (
          <RowCues
            key={row.part.part}
            row={row}
            at={at}
            barWidth={barWidth}
            pieces={pieces}
            chosen={chosen}
          />
        ))}
      <path d={`M0.5 ${head}V${foot}`} stroke="var(--bone)" strokeWidth="1.3" />
      <path d={`M-6 ${head - 1}V${foot + 1}`} stroke="var(--bone-2)" strokeWidth="3" />
      <path
        d={`M-7.5 ${head - 1}c3-.4 4.6-1.6 5.6-3.8M-7.5 ${foot + 1}c3 .4 4.6 1.6 5.6 3.8`}
        stroke="var(--bone-2)"
        strokeWidth="1.5"
        fill="none"
      />
      <End at={at} x={width} ends={ends} hidden={loopTo === line.bars} />
      {vamp && line.first && loopFrom !== 0 && <Repeat x={1} facing={1} at={at} colour="var(--bone)" />}
      {loopFrom !== null && <Repeat x={loopFrom * barWidth + 1} facing={1} at={at} colour="var(--now)" />}
      {loopTo !== null && <Repeat x={loopTo * barWidth - 1} facing={-1} at={at} colour="var(--now)" />}
    </svg>
  )
}

/** The barline a line ends with: single where the section goes on, double at its end, heavy at the song's. */
function End({ at, x, ends, hidden }: { at: PlacedLine; x: number; ends: boolean; hidden: boolean }) {
  const from = at.head
  const to = at.head + at.rowsHeight
  if (hidden) return null
  if (!at.line.last) return <path d={`M${x} ${from}V${to}`} stroke="var(--bone)" strokeOpacity=".4" />
  if (at.line.section.vamp) return <Repeat x={x - 1} facing={-1} at={at} colour="var(--bone)" />
  if (ends) {
    return (
      <>
        <path d={`M${x - 6} ${from}V${to}`} stroke="var(--bone)" />
        <path d={`M${x - 1.5} ${from}V${to}`} stroke="var(--bone)" strokeWidth="3.5" />
      </>
    )
  }
  return <path d={`M${x - 4} ${from}V${to}M${x} ${from}V${to}`} stroke="var(--bone)" strokeOpacity=".75" />
}

function Repeat({ x, facing, at, colour }: { x: number; facing: 1 | -1; at: PlacedLine; colour: string }) {
  const from = at.head
  const to = at.head + at.rowsHeight
  const middle = (from + to) / 2
  const apart = at.open ? 12 : 6
  return (
    <g stroke={colour} fill={colour}>
      <path d={`M${x} ${from}V${to}`} strokeWidth="4" />
      <path d={`M${x + facing * 5} ${from}V${to}`} strokeWidth="1.3" />
      <circle cx={x + facing * 10} cy={middle - apart} r="2.3" stroke="none" />
      <circle cx={x + facing * 10} cy={middle + apart} r="2.3" stroke="none" />
    </g>
  )
}

/** How far a bracket's arms reach where it goes on over a line's end, px. */
const OPEN_END = 12

function RowCues({
  row,
  at,
  barWidth,
  pieces,
  chosen,
}: {
  row: Row
  at: PlacedLine
  barWidth: number
  pieces: readonly CuePiece[]
  chosen: ReadonlySet<string>
}) {
  const brackets: string[] = []
  const held: string[] = []
  const hairpins: string[] = []
  const crossed: string[] = []
  for (const piece of pieces) {
    if (piece.part !== row.part.part) continue
    const lane = laneOf(row, piece.track)
    const top = at.head + lane.y + 0.5
    const foot = at.head + lane.y + lane.height - 0.5
    const middle = (top + foot) / 2
    const from = piece.from * barWidth + 0.5
    const to = piece.to * barWidth - 0.5
    const into = chosen.has(piece.cue) ? held : brackets
    // A bracket that goes on over the line's end stays open there.
    if (piece.opens) into.push(`M${from + 5} ${top}H${from}V${foot}h5`)
    else into.push(`M-3 ${top}h${OPEN_END}M-3 ${foot}h${OPEN_END}`)
    if (piece.closes) into.push(`M${to - 5} ${top}H${to}V${foot}h-5`)
    else into.push(`M${to + 3} ${top}h-${OPEN_END}M${to + 3} ${foot}h-${OPEN_END}`)
    if (piece.crossfade) {
      const [a, b] = [piece.crossfade.from * barWidth, piece.crossfade.to * barWidth]
      crossed.push(`M${a} ${middle}L${b} ${top}M${a} ${middle}L${b} ${foot}`)
      crossed.push(`M${b} ${middle}L${a} ${top}M${b} ${middle}L${a} ${foot}`)
    }
    const hairpin = (tip: number, mouth: number) =>
      hairpins.push(
        `M${mouth * barWidth} ${top + 0.5}L${tip * barWidth} ${middle}L${mouth * barWidth} ${foot - 0.5}`,
      )
    if (piece.fadeIn !== null && piece.fadeIn > 0) hairpin(piece.fadeInTip, piece.fadeIn)
    if (piece.fadeOut !== null && piece.fadeOut < at.line.bars) hairpin(piece.fadeOutTip, piece.fadeOut)
  }
  const clip = `row-${at.line.key}-${row.part.part}`
  return (
    <g fill="none" stroke="var(--bone)">
      <clipPath id={clip}>
        <rect x="-1" y={at.head + row.y - 0.5} width={at.line.bars * barWidth + 2} height={row.height + 1} />
      </clipPath>
      {row.lanes.map((lane, i) => (
        <Fragment key={lane.track}>
          {i > 0 && (
            <path
              d={`M0 ${at.head + lane.y}h${at.line.bars * barWidth}`}
              strokeOpacity=".32"
              strokeDasharray="1 4"
            />
          )}
          <text
            className="lane-number"
            x={at.line.bars * barWidth + 8}
            y={at.head + lane.y + lane.height / 2 + 3.5}
          >
            {i + 1}
          </text>
        </Fragment>
      ))}
      <path d={brackets.join('')} strokeOpacity=".62" />
      {held.length > 0 && <path d={held.join('')} strokeWidth="2.2" />}
      {crossed.length > 0 && (
        <g clipPath={`url(#${clip})`}>
          <path d={crossed.join('')} stroke="var(--ground)" strokeOpacity=".6" strokeWidth="3.4" />
          <path d={crossed.join('')} strokeOpacity=".85" strokeWidth="1.2" />
        </g>
      )}
      <path d={hairpins.join('')} strokeOpacity=".5" clipPath={`url(#${clip})`} />
    </g>
  )
}
