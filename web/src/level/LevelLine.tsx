// The level of the chosen cue over its light: a line through points that are dragged, or moved with keys.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'
import { tell } from '../chart/foot.ts'
import { barsInto, lineEnd, lineStart, tickInto } from '../chart/lines.ts'
import type { Page, PlacedLine } from '../chart/page.ts'
import { leave } from '../chart/reach.ts'
import type { Row } from '../chart/rows.ts'
import { type Grid, gridStep, placeWords, snapped } from '../chart/snap.ts'
import { editTogether, type Told } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { levelEdit, levelOf, putLevel } from './change.ts'
import './level.css'
import { levelAt, moved, type Points, withMore, without } from './points.ts'

interface Props {
  page: Page
  viewed: ViewedSong
  place: CuePlace
  grid: Grid
  /** What a drag would do if it were let go; null: nothing is dragged. */
  onDraft: (edits: readonly Told[] | null) => void
}

/** Room between the row's edges and full level, and none, px. */
const INSET = 3
const SLACK = 3

export function LevelLine({ page, viewed, place, grid, onDraft }: Props) {
  const [drawn, setDrawn] = useState<Points | null>(null)
  const drag = useRef<{
    x: number
    y: number
    at: PlacedLine
    i: number
    points: Points
    was: Points
  } | null>(null)
  const now = levelOf(viewed, place)
  if (!now || typeof now.level === 'number') return null
  const points = drawn ?? now.points
  const { meters } = viewed.timeline
  const part = viewed.song.tracks[place.cue.track]!.part
  const stop = place.at + place.length
  const lines = page.lines.flatMap(at => {
    const row = at.rows.find(r => r.part.part === part)
    const isHere = at.open && row && place.at < lineEnd(at.line) && stop > lineStart(at.line)
    return isHere ? [{ at, row }] : []
  })
  const says = (i: number, of = points) =>
    `${Math.round(of[i]!.level * 100)} % at ${placeWords(meters, now.start + of[i]!.at)}`
  const put = (next: Points, i: number) => {
    putLevel(viewed.id, place, next)
    tell(`Point ${i + 1} of ${next.length}: ${says(i, next)}`)
  }

  const onPointerMove = (event: PointerEvent) => {
    const held = drag.current
    if (!held) return
    const row = held.at.rows.find(r => r.part.part === part)!
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y]
    if (held.points === held.was && Math.abs(dx) + Math.abs(dy) < SLACK) return
    const was = held.was[held.i]!
    const bars = barsInto(held.at.line, now.start + was.at) + dx / page.barWidth
    const tick = tickInto(held.at.line, bars)
    const lifted = event.ctrlKey || event.metaKey
    const [bar = 0, next = 1] = held.at.line.edges
    const pulls = [place.at, stop]
    // Up and down only, as long as the hand does not leave the place.
    const to =
      Math.abs(dx) < SLACK
        ? now.start + was.at
        : lifted
          ? tick
          : snapped(meters, tick, grid, pulls, (next - bar) / page.barWidth)
    const level = was.level - dy / (row.height - 2 * INSET)
    held.points = moved(held.was, held.i, to - now.start, level)
    setDrawn(held.points)
    onDraft([levelEdit(viewed.id, place, held.points)])
  }
  const onPointerUp = (keep: boolean) => {
    const held = drag.current
    drag.current = null
    if (held && held.points !== held.was && keep)
      void editTogether('Level point', [levelEdit(viewed.id, place, held.points)])
    setDrawn(null)
    onDraft(null)
  }
  const onKeyDown = (event: KeyboardEvent<HTMLButtonElement>, i: number) => {
    const { at, level } = points[i]!
    const by = event.shiftKey ? 0.01 : 0.05
    const tick = now.start + at
    const go = (to: number) => {
      const buttons = [...document.querySelectorAll<HTMLElement>('.level-point')]
      buttons.find(button => button.dataset.point === `${to}`)?.focus()
    }
    if (event.ctrlKey || event.metaKey) return
    switch (event.key) {
      case 'ArrowLeft':
        if (event.altKey) put(moved(points, i, at - gridStep(meters, tick - 1, grid), level), i)
        else go(i - 1)
        break
      case 'ArrowRight':
        if (event.altKey) put(moved(points, i, at + gridStep(meters, tick, grid), level), i)
        else go(i + 1)
        break
      case 'ArrowUp':
        put(moved(points, i, at, level + by), i)
        break
      case 'ArrowDown':
        put(moved(points, i, at, level - by), i)
        break
      case 'Enter': {
        const next = points[i + 1]?.at ?? place.cue.length
        const more = withMore(points, Math.round((at + next) / 2))
        if (more) put(more.points, more.at)
        if (more) requestAnimationFrame(() => go(more.at))
        break
      }
      case 'Delete':
      case 'Backspace':
        putLevel(viewed.id, place, without(points, i))
        requestAnimationFrame(() => (points.length > 2 ? go(Math.min(i, points.length - 2)) : leave()))
        break
      case 'Escape':
        if (drag.current) onPointerUp(false)
        else leave()
        break
      default:
        return
    }
    event.preventDefault()
    event.stopPropagation()
  }

  const xOf = (at: PlacedLine, tick: number) => page.gutter + barsInto(at.line, tick) * page.barWidth
  const yOf = (at: PlacedLine, row: Row, level: number) =>
    at.fieldTop + at.head + row.y + INSET + (1 - level) * (row.height - 2 * INSET)
  return (
    <>
      <svg className="level-line" aria-hidden="true" style={{ height: page.height }}>
        {lines.map(({ at, row }) => {
          const from = Math.max(place.at, lineStart(at.line))
          const to = Math.min(stop, lineEnd(at.line))
          // Bars have one width whatever their meter: the line may bend at each.
          const within = [...points.map(p => now.start + p.at), ...at.line.edges].filter(
            tick => tick > from && tick < to,
          )
          const through = [from, ...within.sort((a, b) => a - b), to]
          const path = through
            .map(tick => `${xOf(at, tick)} ${yOf(at, row, levelAt(points, tick - now.start))}`)
            .join('L')
          return (
            <g key={at.line.key}>
              <path className="plate-under" d={`M${path}`} />
              <path d={`M${path}`} />
            </g>
          )
        })}
      </svg>
      {points.map((point, i) => {
        const tick = now.start + point.at
        const on = lines.find(({ at }) => tick >= lineStart(at.line) && tick <= lineEnd(at.line))
        if (!on || tick < place.at || tick > stop) return null
        return (
          <button
            // biome-ignore lint/suspicious/noArrayIndexKey: points have no names; one that is moved stays the same.
            key={i}
            type="button"
            className="level-point"
            data-point={i}
            data-reach={i === 0 ? 'level' : undefined}
            aria-label={`Level point ${i + 1} of ${points.length}: ${says(i)}`}
            style={{ left: xOf(on.at, tick), top: yOf(on.at, on.row, point.level) }}
            onPointerDown={event => {
              if (event.button !== 0) return
              event.stopPropagation()
              event.currentTarget.setPointerCapture(event.pointerId)
              const { clientX: x, clientY: y } = event
              drag.current = { x, y, at: on.at, i, points, was: points }
            }}
            onPointerMove={onPointerMove}
            onPointerUp={() => onPointerUp(true)}
            onPointerCancel={() => onPointerUp(false)}
            onDoubleClick={event => event.stopPropagation()}
            onKeyDown={event => onKeyDown(event, i)}
          >
            {drag.current?.i === i && drawn && <span className="nib">{says(i)}</span>}
          </button>
        )
      })}
    </>
  )
}
