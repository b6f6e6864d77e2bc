// Dragging sections on the chart: a rehearsal mark to another place or onto another mark, a section's end to another
// bar. Escape drops it. On touch a drag pans; the section column does the same by presses.

import type { Song } from '@glowchart/shared/show/song.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import { type PointerEvent, type RefObject, useEffect, useRef, useState } from 'react'
import { followedNow } from '../access/read-only.ts'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { duplicateSection, familyOf, moveBefore, namesInWords } from '../section/acts.ts'
import { land } from '../section/landing.ts'
import type { Page } from './page.ts'

/** What a drag would do if it were let go now, and where that is drawn, px on the page. */
export type SectionDrag = { readonly says: string; readonly section: string } & (
  | { readonly to: 'place'; readonly before: string | null; readonly copies: boolean; readonly y: number }
  | { readonly to: 'mark'; readonly onto: string; readonly y: number }
  | {
      readonly to: 'bars'
      readonly bars: number
      readonly x: number
      readonly y: number
      readonly foot: number
    }
  | { readonly to: 'nothing'; readonly y: number }
)

interface Start {
  readonly section: string
  readonly on: 'mark' | 'end'
  readonly x: number
  readonly y: number
}

/** A pointer that moves less than this, px, has pressed and not dragged. */
const SLACK = 4
/** Height of a mark, px. */
const MARK = 31
/** This near to the edge of the page, px, a drag turns it. */
const EDGE = 34

export function useSectionDrag(page: Page, viewed: ViewedSong, scroller: RefObject<HTMLElement | null>) {
  const start = useRef<Start | null>(null)
  const [drag, setDrag] = useState<SectionDrag | null>(null)
  // A quick hand moves and lets go between two draws of the page.
  const now = useRef<SectionDrag | null>(null)
  const hold = (next: SectionDrag | null) => {
    now.current = next
    setDrag(next)
  }
  const drop = () => {
    start.current = null
    hold(null)
  }
  const dropping = useRef(drop)
  dropping.current = drop
  useEffect(() => {
    if (!drag) return
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      event.stopImmediatePropagation()
      event.preventDefault()
      dropping.current()
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [drag])

  const placeOf = (event: PointerEvent<HTMLElement>) => {
    const box = event.currentTarget.getBoundingClientRect()
    return { x: event.clientX - box.left, y: event.clientY - box.top }
  }
  return {
    drag,
    handlers: {
      onPointerDownCapture(event: PointerEvent<HTMLElement>) {
        if (event.button !== 0 || event.pointerType === 'touch' || followedNow() !== null) return
        const held = (event.target as Element).closest<HTMLElement>('[data-section], [data-end]')
        const { section, end } = held?.dataset ?? {}
        const id = section ?? end
        if (id === undefined) return
        start.current = { section: id, on: section === undefined ? 'end' : 'mark', ...placeOf(event) }
        if (end !== undefined) event.stopPropagation()
      },
      onPointerMoveCapture(event: PointerEvent<HTMLElement>) {
        const from = start.current
        if (!from) return
        event.stopPropagation()
        // An undo, or another page, may have taken it away.
        if (!viewed.song.sections[from.section]) return drop()
        const to = placeOf(event)
        if (!now.current && Math.abs(to.x - from.x) + Math.abs(to.y - from.y) < SLACK) return
        event.currentTarget.setPointerCapture(event.pointerId)
        turnAtEdge(scroller.current, event.clientY)
        hold(
          from.on === 'end'
            ? stretched(page, viewed, from.section, to.x)
            : carried(page, viewed, from.section, to, event.altKey),
        )
      },
      onPointerUpCapture() {
        const done = now.current
        drop()
        if (done && viewed.song.sections[done.section]) finish(done, viewed)
      },
      onPointerCancelCapture: drop,
    },
  }
}

function turnAtEdge(scroller: HTMLElement | null, y: number): void {
  if (!scroller) return
  const { top, bottom } = scroller.getBoundingClientRect()
  if (y < top + EDGE) scroller.scrollTop -= EDGE / 2
  else if (y > bottom - EDGE) scroller.scrollTop += EDGE / 2
}

/** A mark carried: onto another mark, or to the place between sections that is nearest. */
function carried(
  page: Page,
  { song }: ViewedSong,
  section: string,
  { x, y }: { x: number; y: number },
  copies: boolean,
): SectionDrag {
  const { name } = song.sections[section]!
  const firsts = page.lines.filter(at => at.line.first)
  const under = firsts.find(
    ({ top, note, line }) =>
      x < page.gutter && y >= top + note && y < top + note + MARK && line.section.id !== section,
  )
  if (under) {
    const onto = under.line.section.id
    return {
      section,
      to: 'mark',
      onto,
      y: under.top + under.note,
      says: `Copy ${name} onto ${song.sections[onto]!.name}`,
    }
  }
  const middle = (i: number): number => (firsts[i]!.top + (firsts[i + 1]?.top ?? page.height)) / 2
  const next = firsts.findIndex((_, i) => y < middle(i))
  const before = next < 0 ? null : firsts[next]!.line.section.id
  const at = next < 0 ? page.height - 8 : firsts[next]!.top
  const { sectionOrder } = song
  const stays =
    before === section || sectionOrder[sectionOrder.indexOf(section) + 1] === (before ?? undefined)
  if (stays && !copies) return { section, to: 'nothing', y: at, says: `${name} stays here` }
  const where = before === null ? 'to the end' : `before ${song.sections[before]!.name}`
  return { section, to: 'place', before, copies, y: at, says: `${copies ? 'Copy' : 'Move'} ${name} ${where}` }
}

function stretched(page: Page, viewed: ViewedSong, section: string, x: number): SectionDrag {
  const { song } = viewed
  const at = page.lines.find(({ line }) => line.last && line.section.id === section)!
  const { bars } = song.sections[section]!
  const before = bars - at.line.bars
  const now = Math.min(999, Math.max(1, before + Math.round((x - page.gutter) / page.barWidth)))
  const y = at.fieldTop + at.head
  const drawn = { x: page.gutter + Math.max(0, now - before) * page.barWidth, y, foot: y + at.rowsHeight }
  return { section, to: 'bars', bars: now, ...drawn, says: lengthSays(viewed, section, now) }
}

/** "Chorus 1, 14 bars, 2 cues go, Chorus 2 follows". */
function lengthSays(viewed: ViewedSong, id: string, bars: number): string {
  const { song, timeline } = viewed
  const section = song.sections[id]!
  const span = timeline.sections.find(s => s.id === id)!
  const end = barStart(timeline.meters, span.firstBar + bars) - span.start
  const lost = bars < section.bars ? Object.values(section.cues).filter(cue => cue.at >= end).length : 0
  const follows = section.sameAs
    ? []
    : familyOf(viewed, id).filter(other => other !== id && song.sections[other]!.bars === section.bars)
  return [
    section.name,
    `${bars} ${bars === 1 ? 'bar' : 'bars'}`,
    ...(lost > 0 ? [`${lost} ${lost === 1 ? 'cue goes' : 'cues go'}`] : []),
    ...(follows.length > 0 ? [`${namesOf(song, follows)} too`] : []),
  ].join(', ')
}

const namesOf = (song: Song, ids: readonly string[]): string =>
  namesInWords(ids.map(id => song.sections[id]!))

function finish(drag: SectionDrag, viewed: ViewedSong): void {
  const { section } = drag
  if (drag.to === 'mark') land(section, drag.onto)
  else if (drag.to === 'place') {
    if (drag.copies) duplicateSection(section, false, drag.before)
    else moveBefore(section, drag.before)
  } else if (drag.to === 'bars' && drag.bars !== viewed.song.sections[section]!.bars) {
    void edit('setSectionBars', { song: viewed.id, section, bars: drag.bars })
  }
}
