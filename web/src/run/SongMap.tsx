// The song as a small chart: a line a section, with its light and the playhead.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import { barsInto, type Line, lineAt, linesOf } from '../chart/lines.ts'
import type { PlacedLine } from '../chart/page.ts'
import { Roll } from '../chart/roll/Roll.tsx'
import { type Rolls, startRolls } from '../chart/roll/rolls.ts'
import { type Row, rowsOf, strandsOf } from '../chart/rows.ts'
import { useSession } from '../document/session.ts'
import type { Tonight, ViewedSong } from '../document/viewed.ts'
import { everyTold } from '../live/animation.ts'
import { positionAt } from '../live/playhead.ts'

interface Props {
  rig: Rig
  show: Show
  tonight: Tonight
  standing: ViewedSong
  /** Height that it may take, and width of its lines, px. */
  height: number
  width: number
}

const TALLEST = 51
const LOWEST = 30
/** A line is this much lower than its room. */
const GAP = 16
const SHORTEST_LINE = 16
const nearest = () => 0

export function SongMap({ rig, show, tonight, standing, height, width }: Props) {
  const { id, song, timeline } = standing
  const rolls = useRolls(rig, show, id)
  const longest = Math.max(SHORTEST_LINE, ...timeline.sections.map(s => s.bars))
  const lines = useMemo(() => linesOf(timeline, longest), [timeline, longest])
  const barWidth = width / longest
  const room = Math.max(LOWEST, Math.min(TALLEST, height / Math.max(1, lines.length)))
  const rows = useMemo(
    () => scaled(rowsOf(strandsOf(show, tonight.stage), false), room - GAP),
    [show, tonight.stage, room],
  )
  // Told ten times a second, the page must not draw its light anew each time: the same lines stay the same.
  const placed = useMemo(() => lines.map(line => placedAt(line, rows, room)), [lines, rows, room])
  const told = useSession(s => (s.status ? lineAt(lines, s.status.position) : null))
  // Where nothing is heard any more, it stays where it was last.
  const last = useRef(0)
  if (told !== null) last.current = told
  const here = last.current
  const head = useRef<HTMLSpanElement>(null)
  const list = useRef<HTMLOListElement>(null)

  useEffect(
    () =>
      everyTold(now => {
        if (!head.current || lines.length === 0) return
        const at = positionAt(now)
        const line = lineAt(lines, at)
        const x = Math.min(lines[line]!.bars, barsInto(lines[line]!, at)) * barWidth
        head.current.style.transform = `translate(${x}px, ${line * room}px)`
      }),
    [lines, barWidth, room],
  )
  useEffect(() => {
    // Of the list alone: on a phone the page stays where it was scrolled to.
    if (list.current) list.current.scrollTop = (here - 1) * room
  }, [here, room])

  return (
    <ol className="map" aria-label="Sections" ref={list} style={{ maxHeight: height }}>
      {placed.map((at, i) => (
        <li
          key={at.line.key}
          className={i === here ? 'on' : i < here ? 'gone' : ''}
          aria-current={i === here ? 'true' : undefined}
          style={{ height: room }}
        >
          <span className="mark">{at.line.section.mark}</span>
          <span className="sr">{song.sections[at.line.section.id]!.name}</span>
          <div className="tr" style={{ height: at.rowsHeight, width: at.line.bars * barWidth }}>
            {rolls && <Roll rolls={rolls} at={at} barWidth={barWidth} nearness={nearest} />}
            {at.line.section.vamp && <span className="word">vamp</span>}
          </div>
        </li>
      ))}
      <span className="ph" ref={head} aria-hidden="true" style={{ height: room - 4 }} />
    </ol>
  )
}

const placedAt = (line: Line, rows: readonly Row[], room: number): PlacedLine => ({
  line,
  rows,
  rowsHeight: room - GAP,
  open: false,
  head: 0,
  top: 0,
  height: room,
  note: 0,
  fieldTop: 0,
})

function useRolls(rig: Rig, show: Show, song: string): Rolls | null {
  const [rolls, setRolls] = useState<Rolls | null>(null)
  useEffect(() => {
    const started = startRolls()
    setRolls(started)
    return () => {
      started.close()
      setRolls(null)
    }
  }, [])
  useEffect(() => rolls?.setSong(rig, show, song), [rolls, rig, show, song])
  return rolls
}

function scaled({ rows, height }: ReturnType<typeof rowsOf>, to: number): Row[] {
  const k = to / Math.max(1, height)
  return rows.map(row => ({ ...row, y: row.y * k, height: row.height * k }))
}
