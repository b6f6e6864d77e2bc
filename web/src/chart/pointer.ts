// The pointer on the chart: a press chooses a cue or goes to a place in the song; drags draw, move, stretch and fade
// cues, sweep over them to choose, or loop bars along their numbers. Escape drops a drag.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { type PointerEvent, useEffect, useRef, useState } from 'react'
import { choose, chosenKeys, clearChoice, keyOfCue, toggleChosen, useChoice } from '../document/choice.ts'
import { editTogether } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { type Draft, draftOf } from './draft.ts'
import { type Grip, gripAt, keyOf, partAt } from './grip.ts'
import type { PlacedLine } from './page.ts'
import { type Page, tickAt } from './page.ts'
import { type Grid, snapped } from './snap.ts'
import { type Sweep, swept } from './sweep.ts'

/** Bars from…to, both included, 0-based from the song's start. */
interface Bars {
  readonly from: number
  readonly to: number
}

/** What a drag shows until it is let go. */
export type Dragged =
  | { readonly kind: 'loop'; readonly bars: Bars }
  | { readonly kind: 'draft'; readonly draft: Draft | null }
  | { readonly kind: 'sweep'; readonly sweep: Sweep }

interface Score {
  readonly page: Page
  readonly show: Show
  readonly viewed: ViewedSong
  readonly places: readonly CuePlace[]
  readonly grid: Grid
}

interface Actions {
  locate: (tick: number) => void
  loop: (from: number, to: number) => void
}

interface Spot {
  readonly x: number
  readonly y: number
  readonly at: PlacedLine
  readonly bar: number
  readonly inside: boolean
  readonly tick: number
  readonly onNumbers: boolean
}

interface Start extends Spot {
  readonly grip: Grip | null
  readonly held: readonly CuePlace[]
  readonly shift: boolean
}

const NUMBERS = 13
/** A pointer that moves less than this, px, has pressed and not dragged. */
const SLACK = 4

const CURSORS = {
  whole: 'grab',
  start: 'ew-resize',
  end: 'ew-resize',
  fadeIn: 'col-resize',
  fadeOut: 'col-resize',
}

export function usePointer(score: Score, { locate, loop }: Actions) {
  const start = useRef<Start | null>(null)
  const [dragged, setDragged] = useState<Dragged | null>(null)

  const drop = () => {
    start.current = null
    setDragged(null)
  }
  // Before the page's own keys, where Escape lifts the choice.
  useEffect(() => {
    if (!dragged) return
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      event.stopImmediatePropagation()
      start.current = null
      setDragged(null)
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [dragged])

  const spotOf = (event: PointerEvent<HTMLElement>): Spot | null => {
    const { page } = score
    const box = event.currentTarget.getBoundingClientRect()
    const x = event.clientX - box.left
    const y = event.clientY - box.top
    const spot = tickAt(page, x, y)
    if (!spot) return null
    const { at, bars } = spot
    const bar = at.line.firstBar + Math.min(at.line.bars - 1, Math.max(0, Math.floor(bars)))
    const inside = bars >= 0 && bars < at.line.bars
    return { x, y, at, bar, inside, tick: spot.tick, onNumbers: at.open && y < at.fieldTop + NUMBERS }
  }

  const gripOf = ({ at, x, y }: Spot): Grip | null => {
    const chosen = chosenKeys()
    const { viewed, places, page } = score
    return gripAt(viewed, places, chosen, at, page.barWidth, x - page.gutter, y)
  }

  const draftAt = (from: Start, now: Spot, event: PointerEvent<HTMLElement>): Draft | null => {
    const { page, show, viewed, places, grid } = score
    const { meters, sections } = viewed.timeline
    const bars = now.at.line.edges
    const pace = (bars[1]! - bars[0]!) / page.barWidth
    const heldKeys = new Set(from.held.map(keyOf))
    const pulls = [
      ...sections.flatMap(s => [s.start, s.end]),
      ...places.flatMap(p => (heldKeys.has(keyOf(p)) ? [] : [p.at, p.at + p.length])),
    ]
    const lifted = event.ctrlKey || event.metaKey
    return draftOf({
      show,
      viewed,
      grip: from.grip!,
      held: from.held,
      from: from.tick,
      to: now.tick,
      part: partAt(now.at, now.y, true) ?? from.grip!.part,
      copies: event.altKey,
      changesPart: event.shiftKey,
      snap: tick => (lifted ? Math.round(tick) : snapped(meters, tick, grid, pulls, pace)),
    })
  }

  return {
    dragged,
    handlers: {
      onPointerDown(event: PointerEvent<HTMLElement>) {
        if (event.button !== 0 || (event.target as Element).closest('button, input')) return
        const spot = spotOf(event)
        if (!spot) return
        const grip = spot.onNumbers ? null : gripOf(spot)
        if (!spot.inside && grip?.on !== 'cue') return
        start.current = { ...spot, grip, held: heldBy(grip, score.places), shift: event.shiftKey }
        // On touch a drag pans; a finger only presses.
        if (event.pointerType !== 'touch') event.currentTarget.setPointerCapture(event.pointerId)
      },
      onPointerMove(event: PointerEvent<HTMLElement>) {
        const spot = spotOf(event)
        const from = start.current
        if (!from) {
          const grip = spot?.at.open && !spot.onNumbers ? gripOf(spot) : null
          event.currentTarget.style.cursor = grip?.on === 'cue' ? CURSORS[grip.handle] : ''
          return
        }
        if (!spot || event.pointerType === 'touch') return
        if (!dragged && Math.abs(spot.x - from.x) + Math.abs(spot.y - from.y) < SLACK) return
        if (from.onNumbers) {
          const bars = { from: Math.min(from.bar, spot.bar), to: Math.max(from.bar, spot.bar) }
          setDragged({ kind: 'loop', bars })
        } else if (from.shift && from.grip?.on === 'row') {
          setDragged({ kind: 'sweep', sweep: swept(score.viewed, score.page, score.places, from, spot) })
        } else if (from.grip) setDragged({ kind: 'draft', draft: draftAt(from, spot, event) })
      },
      onPointerUp(event: PointerEvent<HTMLElement>) {
        const from = start.current
        drop()
        if (!from) return
        if (dragged) {
          finish(dragged, from, score.viewed, loop)
          return
        }
        const spot = spotOf(event)
        if (!spot || Math.abs(spot.x - from.x) + Math.abs(spot.y - from.y) >= SLACK) return
        if (from.grip?.on === 'cue') {
          const { sourceSection: section, id: cue } = from.grip.place
          if (event.shiftKey) toggleChosen({ section, cue })
          else choose([{ section, cue }])
          return
        }
        if (!spot.inside || event.shiftKey) return
        clearChoice()
        locate(spot.onNumbers ? barStart(score.viewed.timeline.meters, spot.bar) : spot.tick)
      },
      onPointerCancel: drop,
    },
  }
}

/** Every place that a drag of this grip takes along: those of all chosen cues, if the held one is chosen. */
function heldBy(grip: Grip | null, places: readonly CuePlace[]): CuePlace[] {
  if (grip?.on !== 'cue') return []
  const own = keyOf(grip.place)
  const chosen = chosenKeys()
  const keys = grip.handle === 'whole' && chosen.has(own) ? chosen : new Set([own])
  return places.filter(place => keys.has(keyOf(place)))
}

function finish(dragged: Dragged, from: Start, { timeline }: ViewedSong, loop: Actions['loop']): void {
  if (dragged.kind === 'loop') {
    const { bars } = dragged
    loop(barStart(timeline.meters, bars.from), barStart(timeline.meters, bars.to + 1))
  } else if (dragged.kind === 'sweep') {
    const had = chosenKeys()
    choose([...useChoice.getState().cues, ...dragged.sweep.cues.filter(c => !had.has(keyOfCue(c)))])
  } else if (dragged.draft) {
    const { draft } = dragged
    const held = from.held[0]
    // What was dragged is what the hand is at now.
    if (held && !chosenKeys().has(keyOf(held))) choose([{ section: held.sourceSection, cue: held.id }])
    void editTogether(draft.name, draft.edits)
    if (draft.chooses) choose(draft.chooses)
  }
}
