// The pointer on the chart: a press chooses a cue or goes to a place in the song; drags draw, move, stretch and fade
// cues, sweep over them to choose, or loop bars along their numbers. Escape drops a drag. A finger pans; it presses to
// go to a place, and chooses when it is held.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import {
  type MouseEvent,
  type PointerEvent,
  type RefObject,
  type TouchEvent,
  useEffect,
  useRef,
  useState,
} from 'react'
import { followedNow } from '../access/read-only.ts'
import { choose, chosenKeys, clearChoice, keyOfCue, toggleChosen, useChoice } from '../document/choice.ts'
import { editTogether } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { addPointAt } from '../level/change.ts'
import { autoscroll } from './autoscroll.ts'
import { type Draft, draftOf } from './draft.ts'
import { type Grip, gripAt, keyOf, partAt, trackAt } from './grip.ts'
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
  readonly scroller: RefObject<HTMLElement | null>
}

interface Actions {
  locate: (tick: number) => void
  loop: (from: number, to: number) => void
  /** Opens a folded line. */
  open: (at: PlacedLine) => void
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
  /** The page, and what ends what goes on meanwhile: scrolling by itself, waiting for a long press. */
  readonly on: HTMLElement
  end: () => void
}

/** Where the pointer is on the window, and what is held down with it. */
type Where = Pick<MouseEvent, 'clientX' | 'clientY' | 'altKey' | 'shiftKey' | 'ctrlKey' | 'metaKey'>

const NUMBERS = 13
/** A pointer that moves less than this, px, has pressed and not dragged; a finger is less steady. */
const SLACK = 4
const FINGER_SLACK = 10
/** A finger held so long chooses, ms. */
const LONG = 450

const CURSORS = {
  whole: 'grab',
  start: 'ew-resize',
  end: 'ew-resize',
  fadeIn: 'col-resize',
  fadeOut: 'col-resize',
}

export function usePointer(score: Score, { locate, loop, open }: Actions) {
  const start = useRef<Start | null>(null)
  const where = useRef<Where | null>(null)
  /** A finger has chosen, and is not lifted yet. */
  const chosenByFinger = useRef(false)
  const [dragged, setDragged] = useState<Dragged | null>(null)
  // Between two draws of the page it scrolls by itself, and a quick hand moves and lets go.
  const latest = useRef(score)
  latest.current = score
  const now = useRef<Dragged | null>(null)

  const hold = (next: Dragged | null) => {
    now.current = next
    setDragged(next)
  }
  const drop = () => {
    start.current?.end()
    start.current = null
    hold(null)
  }
  const dropping = useRef(drop)
  dropping.current = drop
  // Before the page's own keys, where Escape lifts the choice.
  useEffect(() => {
    if (!dragged) return
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      event.stopImmediatePropagation()
      dropping.current()
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [dragged])
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is dragged stands in the song on the page.
  useEffect(() => () => dropping.current(), [score.viewed.id])

  const spotOf = (on: HTMLElement, { clientX, clientY }: Where): Spot | null => {
    const box = on.getBoundingClientRect()
    const x = clientX - box.left
    const y = clientY - box.top
    const spot = tickAt(latest.current.page, x, y)
    if (!spot) return null
    const { at, bars } = spot
    const bar = at.line.firstBar + Math.min(at.line.bars - 1, Math.max(0, Math.floor(bars)))
    const inside = bars >= 0 && bars < at.line.bars
    return { x, y, at, bar, inside, tick: spot.tick, onNumbers: at.open && y < at.fieldTop + NUMBERS }
  }

  const gripOf = ({ at, x, y }: Spot): Grip | null => {
    const { viewed, places, page } = latest.current
    return gripAt(viewed, places, chosenKeys(), at, page.barWidth, x - page.gutter, y)
  }

  /** Shows what the drag that has begun would do here. */
  const dragTo = (to: Where) => {
    const from = start.current
    const spot = from && spotOf(from.on, to)
    if (!from || !spot) return
    if (!now.current && far(from, spot) < SLACK) return
    const { viewed, page, places } = latest.current
    // An undo, or another page, may have taken it away.
    if (from.grip?.on === 'cue' && !isWritten(viewed, from.grip.place)) return drop()
    if (from.onNumbers) {
      const bars = { from: Math.min(from.bar, spot.bar), to: Math.max(from.bar, spot.bar) }
      hold({ kind: 'loop', bars })
    } else if (from.shift && from.grip?.on === 'row') {
      hold({ kind: 'sweep', sweep: swept(viewed, page, places, from, spot) })
    } else if (from.grip && from.at.open && followedNow() === null) {
      hold({ kind: 'draft', draft: draftAt(latest.current, from, spot, to) })
    }
  }

  return {
    dragged,
    handlers: {
      onPointerDown(event: PointerEvent<HTMLElement>) {
        if (event.button !== 0 || isField(event.target)) return
        // A second finger pinches.
        if (!event.isPrimary) return drop()
        const on = event.currentTarget
        const spot = spotOf(on, event)
        if (!spot) return
        const grip = spot.onNumbers ? null : gripOf(spot)
        if (!spot.inside && grip?.on !== 'cue') return
        where.current = event
        const begun = { ...spot, grip, held: heldBy(grip, score.places), shift: event.shiftKey, on, end() {} }
        start.current = begun
        if (event.pointerType === 'touch') {
          chosenByFinger.current = false
          const timer = setTimeout(() => {
            if (grip?.on !== 'cue') return
            chosenByFinger.current = true
            if (!spot.at.open) open(spot.at)
            chooseGrip(grip, useChoice.getState().cues.length > 0)
            drop()
          }, LONG)
          begun.end = () => clearTimeout(timer)
          return
        }
        on.setPointerCapture(event.pointerId)
        const { scroller } = score
        if (!scroller.current) return
        begun.end = autoscroll(
          scroller.current,
          // Not before it is a drag.
          () => (now.current ? (where.current?.clientY ?? 0) : middleOf(scroller.current)),
          () => where.current && dragTo(where.current),
        )
      },
      onPointerMove(event: PointerEvent<HTMLElement>) {
        const from = start.current
        if (!from) {
          const spot = spotOf(event.currentTarget, event)
          const grip = spot?.at.open && !spot.onNumbers ? gripOf(spot) : null
          const isHeld = grip?.on === 'cue' && followedNow() === null
          event.currentTarget.style.cursor = isHeld ? CURSORS[grip.handle] : ''
          return
        }
        if (event.pointerType === 'touch') {
          const spot = spotOf(event.currentTarget, event)
          if (!spot || far(from, spot) >= FINGER_SLACK) drop()
          return
        }
        where.current = event
        dragTo(event)
      },
      onPointerUp(event: PointerEvent<HTMLElement>) {
        const from = start.current
        const done = now.current
        drop()
        if (!from) return
        if (done) {
          finish(done, from, score.viewed, loop)
          return
        }
        const isTouch = event.pointerType === 'touch'
        const spot = spotOf(event.currentTarget, event)
        if (!spot || far(from, spot) >= (isTouch ? FINGER_SLACK : SLACK)) return
        if (from.grip?.on === 'cue' && !isTouch) {
          if (!from.at.open) open(from.at)
          chooseGrip(from.grip, event.shiftKey)
          return
        }
        if (!spot.inside || event.shiftKey) return
        if (!isTouch) clearChoice()
        locate(spot.onNumbers ? barStart(score.viewed.timeline.meters, spot.bar) : spot.tick)
      },
      onPointerCancel: drop,
      onTouchEnd(event: TouchEvent) {
        // Lifted, it must not press what has come under it meanwhile.
        if (chosenByFinger.current && event.cancelable) event.preventDefault()
        chosenByFinger.current = false
      },
      onDoubleClick(event: MouseEvent<HTMLElement>) {
        if (isField(event.target)) return
        const spot = spotOf(event.currentTarget, event)
        const grip = spot?.at.open && !spot.onNumbers ? gripOf(spot) : null
        if (!spot || grip?.on !== 'cue' || grip.handle !== 'whole') return
        const { viewed, grid } = score
        addPointAt(viewed, grip.place, snapped(viewed.timeline.meters, spot.tick, grid, [], 0))
      },
      onContextMenu(event: MouseEvent<HTMLElement>) {
        // A finger that is held chooses; the mouse's menu is the browser's.
        if (start.current) event.preventDefault()
      },
    },
  }
}

const isWritten = ({ song }: ViewedSong, { sourceSection, id }: CuePlace): boolean =>
  song.sections[sourceSection]?.cues[id] !== undefined

/** What stands on the page and takes presses itself: a note that is written on, a section's name. */
const isField = (target: EventTarget): boolean =>
  target instanceof Element && target.closest('button, input, textarea') !== null

const far = (a: Spot, b: Spot): number => Math.abs(a.x - b.x) + Math.abs(a.y - b.y)

function middleOf(element: HTMLElement | null): number {
  const box = element?.getBoundingClientRect()
  return box ? box.top + box.height / 2 : 0
}

function chooseGrip({ place }: Grip & { on: 'cue' }, more: boolean): void {
  const cue = { section: place.sourceSection, cue: place.id }
  if (more) toggleChosen(cue)
  else choose([cue], place.section)
}

function draftAt(score: Score, from: Start, now: Spot, keys: Where): Draft | null {
  const { page, show, viewed, places, grid } = score
  const { meters, sections } = viewed.timeline
  const bars = now.at.line.edges
  const pace = (bars[1]! - bars[0]!) / page.barWidth
  const heldKeys = new Set(from.held.map(keyOf))
  const pulls = [
    ...sections.flatMap(s => [s.start, s.end]),
    ...places.flatMap(p => (heldKeys.has(keyOf(p)) ? [] : [p.at, p.at + p.length])),
  ]
  const lifted = keys.ctrlKey || keys.metaKey
  return draftOf({
    show,
    viewed,
    grip: from.grip!,
    held: from.held,
    from: from.tick,
    to: now.tick,
    part: partAt(now.at, now.y, true) ?? from.grip!.part,
    track: trackAt(now.at, now.y),
    copies: keys.altKey,
    changesPart: keys.shiftKey,
    snap: tick => (lifted ? Math.round(tick) : snapped(meters, tick, grid, pulls, pace)),
  })
}

/** Every place that a drag of this grip takes along: those of all chosen cues, if the held one is chosen. */
function heldBy(grip: Grip | null, places: readonly CuePlace[]): CuePlace[] {
  if (grip?.on !== 'cue') return []
  const own = keyOf(grip.place)
  const chosen = chosenKeys()
  const isFade = grip.handle === 'fadeIn' || grip.handle === 'fadeOut'
  const keys = !isFade && chosen.has(own) ? chosen : new Set([own])
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
    const held = from.grip?.on === 'cue' ? from.grip.place : undefined
    // What was dragged is what the hand is at now.
    if (held && !chosenKeys().has(keyOf(held)))
      choose([{ section: held.sourceSection, cue: held.id }], held.section)
    void editTogether(draft.name, draft.edits)
    if (draft.chooses) choose(draft.chooses)
  }
}
