// The tips of the chosen cue's fades as the keys hold them: F and Shift F go there, the arrows move them.

import type { Curve, Fade } from '@glowchart/shared/show/song.ts'
import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import type { KeyboardEvent } from 'react'
import { type ChosenCue, useChoice } from '../document/choice.ts'
import { editTogether, type Told } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import type { Page } from './page.ts'
import { spotOf } from './page.ts'
import { leave } from './reach.ts'
import { laneOf } from './rows.ts'
import { type Grid, gridStep, lengthWords } from './snap.ts'

interface Props {
  page: Page
  viewed: ViewedSong
  /** The first of the chosen. */
  place: CuePlace
  grid: Grid
}

const curves: readonly Curve[] = ['even', 'soft', 'early', 'late']

export function FadeTips(props: Props) {
  return (
    <>
      <Tip {...props} side="fadeIn" />
      <Tip {...props} side="fadeOut" />
    </>
  )
}

function Tip({ page, viewed, place, grid, side }: Props & { side: 'fadeIn' | 'fadeOut' }) {
  const { meters } = viewed.timeline
  const fade = place.cue[side]
  const seen = fade ? Math.max(0, fade.length - fade.cut) : 0
  const stop = place.at + place.length
  const tip = side === 'fadeIn' ? place.at + seen : stop - seen
  // A tip on a line's end belongs to that line.
  const spot = spotOf(page, side === 'fadeOut' && seen === 0 ? tip - 1 : tip)
  const part = viewed.song.tracks[place.cue.track]!.part
  const row = spot?.at.rows.find(r => r.part.part === part)
  if (!spot?.at.open || !row) return null
  const lane = laneOf(row, place.cue.track)
  const way = side === 'fadeIn' ? 'in' : 'out'
  const length = seen === 0 ? 'none' : lengthWords(meters, place.at, seen)
  const says = `fade ${way} ${length}${fade && seen > 0 ? `, ${fade.curve}` : ''}`

  const onKeyDown = (event: KeyboardEvent) => {
    const turn = { ArrowUp: 1, ArrowDown: -1 }[event.key]
    const move = { ArrowRight: 1, ArrowLeft: -1 }[event.key]
    if (event.key === 'Escape' || event.key === 'Enter') leave()
    else if (move) {
      const step = gridStep(meters, move === 1 ? tip : tip - 1, grid)
      changeFades(viewed, side, (old, most) => {
        const longer = old.length - old.cut + (side === 'fadeIn' ? move : -move) * step
        return { ...old, length: ticks(Math.min(most, Math.max(0, longer))), cut: ticks(0) }
      })
    } else if (turn) {
      const next = curves[(curves.indexOf(fade?.curve ?? 'even') + turn + curves.length) % curves.length]!
      changeFades(viewed, side, old => ({ ...old, curve: next }))
    } else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <button
      type="button"
      className="fade-tip"
      data-reach={side}
      tabIndex={-1}
      aria-label={says}
      style={{ left: spot.x, top: spot.at.fieldTop + spot.at.head + lane.y, height: lane.height }}
      onKeyDown={onKeyDown}
    >
      <span className="nib">{says}</span>
    </button>
  )
}

/** Changes that fade of every chosen cue; one of no length is none. */
function changeFades(
  { id, song }: ViewedSong,
  side: 'fadeIn' | 'fadeOut',
  change: (old: Fade, most: number) => Fade,
): void {
  const refs: readonly ChosenCue[] = useChoice.getState().cues
  const told = refs.map((ref): Told => {
    const cue = song.sections[ref.section]!.cues[ref.cue]!
    const fade = change(cue[side] ?? { length: ticks(0), curve: 'even', cut: ticks(0) }, cue.length)
    return ['setCueFades', { song: id, cues: [ref], [side]: fade.length === 0 ? null : fade }]
  })
  void editTogether(told.length > 1 ? `Fades of ${told.length} cues` : null, told)
}
