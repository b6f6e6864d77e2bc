// One line of the chart: gutter, field with its light roll, and the names over and on it.

import type { Section, Song } from '@glowchart/shared/show/song.ts'
import type { CuePlace, Timeline } from '@glowchart/shared/time/timeline.ts'
import { memo, useMemo } from 'react'
import { useShallow } from 'zustand/react/shallow'
import { Margin } from '../advice/Margin.tsx'
import type { Mark } from '../advice/marks.ts'
import { keyOfCue, useChoice } from '../document/choice.ts'
import { LookName } from '../look/LookName.tsx'
import { Wave } from '../recording/Wave.tsx'
import { useFamily } from '../section/family.ts'
import { Note } from '../section/Note.tsx'
import { Sign } from '../ui/signs.tsx'
import { lookNamesOf, type Names, piecesOn } from './cues.ts'
import { Engraving, Staves } from './Engraving.tsx'
import { Gutter } from './Gutter.tsx'
import { barsInto, lineEnd, lineStart } from './lines.ts'
import { restBeside, UNDER } from './note-room.ts'
import { PartRows } from './PartRows.tsx'
import type { PlacedLine } from './page.ts'
import { Roll } from './roll/Roll.tsx'
import type { Rolls } from './roll/rolls.ts'
import { bpmName, meterSignsOf, tempoSignsOf } from './signs-in-time.ts'
import { Tie } from './Tie.tsx'

interface Props {
  at: PlacedLine
  /** Id of the song. */
  song: string
  section: Section
  /** Name of the section it repeats. */
  repeats: string | null
  names: Names
  tracks: Song['tracks']
  timeline: Timeline
  /** Those that sound on the line. */
  places: readonly CuePlace[]
  loop: { from: number; to: number } | null
  barWidth: number
  gutter: number
  marks: readonly Mark[]
  /** Px of the page's margin, and from the fields' left edge to it. */
  margin: number
  room: number
  rolls: Rolls
  nearness: (line: PlacedLine) => number
  onToggle: (line: PlacedLine) => void
}

export const LineView = memo(function LineView(props: Props) {
  const {
    at,
    song,
    section,
    repeats,
    names,
    tracks,
    timeline,
    places,
    loop,
    barWidth,
    gutter,
    room,
    rolls,
    nearness,
  } = props
  const { line, open, head } = at
  const pieces = useMemo(
    () => piecesOn(names, tracks, timeline, places, line),
    [names, tracks, timeline, places, line],
  )
  const looks = useMemo(() => lookNamesOf(names, places, line), [names, places, line])
  const here = useMemo(() => new Set(pieces.map(piece => piece.cue)), [pieces])
  const choice = useChoice(useShallow(s => s.cues.map(keyOfCue).filter(key => here.has(key))))
  const chosen = useMemo(() => new Set(choice), [choice])
  const near = useMemo(() => () => nearness(at), [nearness, at])
  const rest = restBeside(line, { barWidth, room })
  const isKin = useFamily(s => s.source !== null && s.source === line.section.source)
  const loopEdge = (tick: number, from: number, to: number) =>
    tick >= from && tick <= to ? barsInto(line, tick) : null
  return (
    <article
      className={`line${open ? ' open' : ''}${isKin ? ' kin' : ''}`}
      aria-label={`${section.name}, from bar ${line.firstBar + 1}`}
      style={{ top: at.top, height: at.height }}
    >
      <Gutter {...{ at, song, section, repeats }} timeline={timeline} onToggle={() => props.onToggle(at)} />
      <div
        className="notes"
        style={{
          left: gutter,
          top: at.fieldTop - at.top,
          width: line.bars * barWidth,
          height: head + at.rowsHeight,
        }}
      >
        <Staves at={at} barWidth={barWidth} />
        <Wave {...{ at, barWidth, song, timeline }} />
        <Roll rolls={rolls} at={at} barWidth={barWidth} nearness={near} />
        <Engraving
          at={at}
          barWidth={barWidth}
          pieces={pieces}
          chosen={chosen}
          ends={lineEnd(line) === timeline.length}
          loopFrom={loop ? loopEdge(loop.from, lineStart(line), lineEnd(line) - 1) : null}
          loopTo={loop ? loopEdge(loop.to, lineStart(line) + 1, lineEnd(line)) : null}
        />
        {open &&
          line.edges.slice(0, -1).map((edge, i) => (
            <span key={edge} className="bar-number" style={{ left: i * barWidth + 1 }}>
              {line.firstBar + i + 1}
            </span>
          ))}
        {looks.map((look, i) => (
          <LookName
            key={look.tick}
            {...{ look, places }}
            left={look.at * barWidth + 1}
            room={looks[i + 1] ? (looks[i + 1]!.at - look.at) * barWidth - 4 : null}
          />
        ))}
        {line.section.vamp && line.first && (
          <span className="look aside" style={{ left: line.bars * barWidth + 8 }}>
            vamp till released
          </span>
        )}
        {tempoSignsOf(timeline, line).map(({ at: bars, says }) =>
          bars > 0 ? (
            <span key={bars} className="sign" style={{ left: bars * barWidth + 1 }}>
              {'bpm' in says ? (
                <>
                  <Sign name="note" />= {bpmName(says.bpm)}
                </>
              ) : (
                <i>{says.word}</i>
              )}
            </span>
          ) : null,
        )}
        {meterSignsOf(timeline, line).map(({ at: bars, meter }) =>
          bars > 0 ? (
            <span key={bars} className="sign meter-sign" style={{ left: bars * barWidth + 3 }}>
              {meter.beats}/{meter.unit}
            </span>
          ) : null,
        )}
        {open && <PartRows at={at} pieces={pieces} barWidth={barWidth} chosen={chosen} />}
        {open && <Tie pieces={pieces} chosen={chosen} barWidth={barWidth} head={head} />}
        {line.last && (
          <span
            className="section-end"
            data-end={line.section.id}
            aria-hidden="true"
            title="Drag to change the length"
            style={{ left: line.bars * barWidth, top: head, height: at.rowsHeight }}
          />
        )}
        {line.last && rest !== null && (
          <Note
            song={song}
            section={section}
            id={line.section.id}
            className="pencil"
            place={{ left: line.bars * barWidth + 22, top: head, width: rest }}
          />
        )}
        {at.note > 0 && (
          <Note
            song={song}
            section={section}
            id={line.section.id}
            className="pencil over"
            place={{
              left: 0,
              top: -at.note,
              width: Math.min(room - 12, Math.max(190, line.bars * barWidth)),
              height: at.note - UNDER,
            }}
          />
        )}
      </div>
      <Margin at={at} marks={props.marks} width={props.margin} />
    </article>
  )
})
