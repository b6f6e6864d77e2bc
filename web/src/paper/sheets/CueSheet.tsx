// The cue sheet of a song: its light in ink, line by line, then bar by bar what happens, in words.

import { type CueRow, type CueSection, cueSheet } from '@glowchart/shared/paper/cue-sheet.ts'
import { setListRows } from '@glowchart/shared/paper/set-list.ts'
import { stageOf } from '@glowchart/shared/rig/stage.ts'
import { cuePlaces, timelineOf } from '@glowchart/shared/time/timeline.ts'
import { lookNamesOf } from '../../chart/cues.ts'
import { lineEnd, linesOf } from '../../chart/lines.ts'
import { strandsOf } from '../../chart/rows.ts'
import type { PaperContext } from '../context.ts'
import type { Block, Sheet, TableRow } from '../sheet.ts'
import { contentWidth } from '../size.ts'
import { GUTTER, InkLine } from './InkLine.tsx'
import { inkRowsOf } from './ink-rows.ts'

const BARS_A_LINE = 16

export function cueSheetOf({ rig, show, kit, size }: PaperContext, id: string): Sheet {
  const song = show.songs[id]!
  const timeline = timelineOf(song)
  const sections = cueSheet(show, id, timeline)
  const places = cuePlaces(song, timeline)
  const { rows, height } = inkRowsOf(strandsOf(show, stageOf(rig, kit), song))
  const room = contentWidth(size) - GUTTER - 4
  const facts = setListRows(show, { name: '', songs: [{ song: id }] }).rows[0]!
  const number = show.songOrder.indexOf(id) + 1
  const blocks: Block[] = linesOf(timeline, BARS_A_LINE).map(line => ({
    kind: 'whole',
    key: line.key,
    node: (
      <InkLine
        song={id}
        line={line}
        section={song.sections[line.section.id]!}
        timeline={timeline}
        looks={lookNamesOf(show, places, line)}
        rows={rows}
        height={height}
        barWidth={room / BARS_A_LINE}
        room={room}
        ends={lineEnd(line) === timeline.length}
      />
    ),
  }))
  blocks.push({
    kind: 'table',
    key: 'words',
    caption: 'Bar by bar',
    columns: [
      { head: 'Bar', width: '58px' },
      { head: 'Look', width: '130px' },
      { head: 'What happens', width: '*' },
    ],
    rows: sections.flatMap(rowsOf),
  })
  return {
    id: `cue ${id}`,
    title: song.title,
    left: (
      <span className="tempo">
        ♩ = {facts.tempo}
        <br />
        {facts.meter}
      </span>
    ),
    right: (
      <>
        {show.name}
        <br />
        Song {number} of {show.songOrder.length}, {facts.bars} bars, {facts.length}
      </>
    ),
    foot: `Thicker ink is brighter light. Rows from the top: ${rows.map(row => row.name.toLowerCase()).join(', ')}.`,
    blocks,
  }
}

function rowsOf(section: CueSection): TableRow[] {
  const head: TableRow = {
    key: section.section,
    heads: true,
    cells: [
      <span key="head" className="section-row">
        <span className="mark">{section.mark}</span>
        <b>{section.name}</b> bars {section.bars}
        {section.vamp && ', vamp till released'}
        {section.repeats && <i> {section.repeats}</i>}
        {section.note && <em> “{section.note}”</em>}
      </span>,
    ],
  }
  return [head, ...section.rows.map((row, i) => cueRow(section, row, i))]
}

function cueRow(section: CueSection, row: CueRow, i: number): TableRow {
  return {
    key: `${section.section} ${i}`,
    cells: [
      <b key="bar" className="score">
        {row.bar}
      </b>,
      <span key="name" className="score">
        {row.name}
      </span>,
      <ul key="says" className="plain">
        {row.says.map(one => (
          <li key={one}>{one}</li>
        ))}
      </ul>,
    ],
  }
}
