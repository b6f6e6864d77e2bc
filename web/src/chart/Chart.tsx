// The chart of a song: its lines on a page that scrolls, the light on them, and the playhead.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Song } from '@glowchart/shared/show/song.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { useFollowed } from '../access/read-only.ts'
import { AdviceHead } from '../advice/AdviceHead.tsx'
import { useAdvice } from '../advice/advising.ts'
import { type MarksByLine, marksByLine } from '../advice/marks.ts'
import { type ChosenCue, keyOfCue, useChoice } from '../document/choice.ts'
import { useDocument } from '../document/document.ts'
import type { Told } from '../document/editing.ts'
import { usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import { placesOf, type Tonight, type ViewedSong, viewedSongNow } from '../document/viewed.ts'
import { LevelLine } from '../level/LevelLine.tsx'
import { useLookDrop } from '../look/carry.ts'
import { addSection } from '../section/acts.ts'
import { chooseLooped } from '../section/bars-keys.ts'
import { useInPlace } from '../section/focus.ts'
import { Flags } from '../tap/Flags.tsx'
import { goTo, loopBars, songPosition } from '../transport/moves.ts'
import { Sign } from '../ui/signs.tsx'
import { useLoopOnChart } from '../version/on-chart.ts'
import './chart.css'
import './gutter.css'
import './line.css'
import './hand.css'
import { DraftView, SweepView } from './DraftView.tsx'
import { FadeTips } from './FadeTips.tsx'
import { Foot } from './Foot.tsx'
import { keyOf } from './grip.ts'
import { LineView } from './LineView.tsx'
import { barsInto, type Line, lineEnd, lineStart, linesOf } from './lines.ts'
import { stripOver } from './note-room.ts'
import { openAtFirst } from './open.ts'
import { Playhead } from './Playhead.tsx'
import { Progress } from './Progress.tsx'
import { barsToFit, keptPage, type Page, type PlacedLine, pageOf, spotOf } from './page.ts'
import { type LinePlaces, placesOnLines } from './places.ts'
import { usePointer } from './pointer.ts'
import { usePreview } from './preview.ts'
import { onReveal } from './reveal.ts'
import { type Rolls, startRolls } from './roll/rolls.ts'
import { shapeOf } from './roll/shape.ts'
import { strandsOf } from './rows.ts'
import { SectionDragView } from './SectionDragView.tsx'
import { useSectionDrag } from './section-drag.ts'
import { gridOf, holdGrid } from './snap.ts'
import { turnTo } from './turn.ts'
import { useWheel } from './wheel.ts'

interface Props {
  rig: Rig
  show: Show
  tonight: Tonight
  viewed: ViewedSong
}

/** Lines this far out of sight are drawn too, px, so that a turn of the page finds them ready. */
const AHEAD = 500
/** Room under the last line for adding a section, px. */
const ADD_ROOM = 38
/** The page is looked at anew every so many px of scrolling. */
const STRIDE = 100

export function Chart({ rig, show, tonight, viewed }: Props) {
  const scroller = useRef<HTMLElement>(null)
  const [size, setSize] = useState<{ width: number; height: number } | null>(null)
  const [scrolled, setScrolled] = useState(0)
  const [rolls, setRolls] = useState<Rolls | null>(null)
  const [levelled, setLevelled] = useState<readonly Told[] | null>(null)
  const zoom = usePreferences(s => s.zoom)
  const byHand = useSession(s => s.lines)
  const loop = useLoopOnChart(viewed)
  const isReadOnly = useFollowed() !== null
  const { timeline, song } = viewed

  useEffect(() => {
    const started = startRolls()
    setRolls(started)
    return () => started.close()
  }, [])
  useEffect(() => {
    rolls?.setSong(rig, show, viewed.id)
  }, [rolls, rig, show, viewed.id])
  // The rolls hear of an edit that leaves the lines where they are before the page is drawn anew for it: their worker
  // draws at the same time.
  useEffect(
    () =>
      useDocument.subscribe(({ rig, show }) => {
        const now = viewedSongNow()
        if (rig && show && now?.timeline === timeline) rolls?.setSong(rig, show, now.id)
      }),
    [rolls, timeline],
  )
  useEffect(() => {
    const element = scroller.current
    if (!element) return
    const watch = new ResizeObserver(() =>
      setSize({ width: element.clientWidth, height: element.clientHeight }),
    )
    watch.observe(element)
    return () => watch.disconnect()
  }, [])

  const { partOrder, parts: named, swatches, looks } = show
  const names = useMemo(() => ({ parts: named, swatches, looks }), [named, swatches, looks])
  const { tracks, trackOrder } = song
  const parts = useMemo(
    () => strandsOf({ partOrder, parts: named }, tonight.stage, { tracks, trackOrder }),
    [partOrder, named, tonight.stage, tracks, trackOrder],
  )
  const places = placesOf(viewed)
  const small = (size?.width ?? 0) < 700
  const barsALine = useMemo(() => {
    if (zoom !== 'page') return small ? Math.min(8, zoom) : zoom
    return barsToFit(bars => linesOf(timeline, bars).length, parts, size?.height ?? 0)
  }, [zoom, small, timeline, parts, size?.height])
  const lines = useMemo(() => linesOf(timeline, barsALine), [timeline, barsALine])
  // Which lines stand open is settled when a song or a zoom is chosen, and not by what is edited since, nor by a foot of
  // the page that has grown a row.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above.
  const opened = useMemo(
    () => openAtFirst(lines, places, parts, barsALine <= 8 && !small, size?.height ?? 0),
    [viewed.id, lines.length === 0, barsALine, small, size === null],
  )
  const isOpen = useMemo(() => (line: Line) => byHand[line.key] ?? opened.has(line.key), [byHand, opened])
  const sorted = useRef<LinePlaces>(new Map())
  const onLines = useMemo(() => {
    sorted.current = placesOnLines(places, lines, sorted.current)
    return sorted.current
  }, [places, lines])
  const gutter = small ? 58 : 150
  const margin = small ? 14 : Math.min(136, Math.max(24, (size?.width ?? 0) * 0.12))
  // On a phone the head of the advice stands over the first line, not in a margin beside it.
  const top = small ? 48 : 9
  const barWidth = Math.max(8, Math.floor(((size?.width ?? 0) - gutter - margin) / barsALine))
  const room = (size?.width ?? 0) - gutter - margin
  const written = useInPlace(s => s.note)
  const noteOver = useMemo(() => {
    const lastBars = new Map(lines.flatMap(({ last, section, bars }) => (last ? [[section.id, bars]] : [])))
    return (line: Line) => {
      const { id } = line.section
      const note = song.sections[id]!.note ?? (written === id ? '' : null)
      return stripOver(line, note, lastBars.get(id)!, { barWidth, room })
    }
  }, [lines, song, barWidth, room, written])
  const lastPage = useRef<Page | null>(null)
  const page = useMemo(() => {
    lastPage.current = keptPage(
      pageOf(lines, parts, isOpen, { barWidth, gutter, top }, noteOver),
      lastPage.current,
    )
    return lastPage.current
  }, [lines, parts, isOpen, barWidth, gutter, top, noteOver])

  const advice = useAdvice(s => s.songs[viewed.id])
  const lastMarks = useRef<MarksByLine>(new Map())
  const marks = useMemo(() => {
    lastMarks.current = marksByLine(advice ?? [], lines, lastMarks.current)
    return lastMarks.current
  }, [advice, lines])

  const nearness = useCallback(
    (at: PlacedLine) => {
      const here = spotOf(page, songPosition())
      const seen = scroller.current
        ? Math.max(
            0,
            scroller.current.scrollTop - at.top - at.height,
            at.top - scroller.current.scrollTop - scroller.current.clientHeight,
          )
        : 0
      return seen * 10 + Math.abs(at.top - (here?.at.top ?? 0))
    },
    [page],
  )
  useEffect(() => {
    rolls?.setPage(() =>
      page.lines
        .map(at => ({ at, far: nearness(at) }))
        .sort((a, b) => a.far - b.far)
        .map(({ at }) => shapeOf(at, barWidth)),
    )
  }, [rolls, page, nearness, barWidth])
  const toggle = useCallback(
    (at: PlacedLine) => useSession.setState(s => ({ lines: { ...s.lines, [at.line.key]: !at.open } })),
    [],
  )
  useEffect(
    () =>
      onReveal({
        show(tick, opens) {
          const spot = spotOf(page, tick)
          if (!spot || !scroller.current) return
          if (!spot.at.open && opens) toggle(spot.at)
          const { scrollTop, clientHeight } = scroller.current
          const to = turnTo(page, spot.index, spot.index, { top: scrollTop, height: clientHeight })
          if (to !== null) scroller.current.scrollTop = to
        },
        turn(tick) {
          const spot = spotOf(page, tick)
          if (spot) toggle(spot.at)
        },
      }),
    [page, toggle],
  )
  const snap = usePreferences(s => s.snap)
  const grid = gridOf(barsALine, snap)
  useEffect(() => holdGrid(grid), [grid])
  const { dragged, handlers } = usePointer(
    { page, show, viewed, places, grid, scroller },
    { locate: goTo, loop: loopAndChoose, open: toggle },
  )
  useWheel(scroller, page, barsALine)
  usePreview(rolls, rig, show, dragged?.kind === 'draft' ? (dragged.draft?.edits ?? null) : levelled)
  const choice = useChoice(s => s.cues)
  const held = useMemo(() => placeOfFirst(places, choice), [places, choice])
  const drop = useLookDrop(page, viewed, grid)
  const sections = useSectionDrag(page, viewed, scroller)
  const looping = dragged?.kind === 'loop' ? dragged.bars : null
  const shownLoop = useMemo(
    () =>
      looping
        ? { from: barStart(timeline.meters, looping.from), to: barStart(timeline.meters, looping.to + 1) }
        : loop,
    [looping, loop, timeline],
  )

  return (
    <>
      <section
        ref={scroller}
        className="chart"
        aria-label="Chart"
        onScroll={e => setScrolled(Math.round(e.currentTarget.scrollTop / STRIDE) * STRIDE)}
      >
        {size && rolls && (
          <div
            className="page"
            style={{ height: page.height + ADD_ROOM }}
            {...handlers}
            {...sections.handlers}
            {...drop.handlers}
          >
            {page.lines.map(at =>
              at.top + at.height > scrolled - AHEAD && at.top < scrolled + size.height + AHEAD ? (
                <LineView
                  key={at.line.key}
                  at={at}
                  song={viewed.id}
                  section={song.sections[at.line.section.id]!}
                  repeats={repeatsOf(song, at.line.section.id)}
                  names={names}
                  tracks={song.tracks}
                  timeline={timeline}
                  places={onLines.get(at.line)!}
                  loop={shownLoop && overlaps(at.line, shownLoop) ? shownLoop : null}
                  barWidth={barWidth}
                  gutter={gutter}
                  marks={marks.get(at.line.key)!}
                  margin={margin}
                  room={room}
                  rolls={rolls}
                  nearness={nearness}
                  onToggle={toggle}
                />
              ) : null,
            )}
            {looping && (
              <span
                className="nib looped"
                style={loopNib(page.barWidth, gutter, page.lines, looping.from)}
              >{`Loop bars ${looping.from + 1} to ${looping.to + 1}`}</span>
            )}
            {dragged?.kind === 'draft' && dragged.draft && <DraftView page={page} draft={dragged.draft} />}
            {dragged?.kind === 'sweep' && <SweepView page={page} sweep={dragged.sweep} />}
            {drop.nib && (
              <span
                className="nib drafted"
                style={{ left: drop.nib.left, top: drop.nib.at.fieldTop - 5 }}
              >{`Look, ${drop.nib.says}`}</span>
            )}
            {sections.drag && <SectionDragView drag={sections.drag} gutter={gutter} />}
            <button
              type="button"
              className="add-section"
              disabled={isReadOnly}
              style={{ top: page.height }}
              onClick={() => addSection(null)}
            >
              <Sign name="plus" />
              Section
            </button>
            <AdviceHead song={viewed.id} />
            {held && !isReadOnly && <FadeTips page={page} viewed={viewed} place={held} grid={grid} />}
            {held && !isReadOnly && choice.length === 1 && (
              <LevelLine page={page} viewed={viewed} place={held} grid={grid} onDraft={setLevelled} />
            )}
            <Flags page={page} song={viewed.id} />
            <Playhead page={page} viewed={viewed} scroller={scroller} />
          </div>
        )}
        {rolls && <Progress rolls={rolls} />}
      </section>
      <Foot grid={grid} viewed={viewed} />
    </>
  )
}

function repeatsOf(song: Song, id: string): string | null {
  const source = song.sections[id]!.sameAs?.section
  return source === undefined ? null : song.sections[source]!.name
}

/** Where the first of the chosen cues stands; in the copy that it was chosen in, if it was. */
function placeOfFirst(places: readonly CuePlace[], choice: readonly ChosenCue[]): CuePlace | null {
  const keys = new Set(choice.map(keyOfCue))
  const ids = new Set(choice.map(({ cue }) => cue))
  const { seenIn } = useChoice.getState()
  const all = places.filter(place => ids.has(place.id) && keys.has(keyOf(place)))
  return all.find(place => place.section === seenIn) ?? all[0] ?? null
}

function loopAndChoose(from: number, to: number): void {
  void loopBars(from, to)
  chooseLooped(from)
}

const overlaps = (line: Line, span: { from: number; to: number }): boolean =>
  span.from <= lineEnd(line) && span.to >= lineStart(line)

function loopNib(barWidth: number, gutter: number, lines: readonly PlacedLine[], bar: number) {
  const at = lines.findLast(l => l.line.firstBar <= bar)
  if (!at) return {}
  return {
    left: gutter + barsInto(at.line, at.line.edges[bar - at.line.firstBar]!) * barWidth,
    top: at.fieldTop - 4,
  }
}
