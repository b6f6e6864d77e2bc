// Where the song is, large: bar and beat; and the field that goes to a bar.

import { barBeatAt } from '@glowchart/shared/time/meter.ts'
import { sectionAt, type Timeline } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { type FormEvent, useEffect, useRef, useState } from 'react'
import { say } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { everyTold } from '../live/animation.ts'
import { chartPlace } from '../version/on-chart.ts'
import { goToBar } from './moves.ts'

export function Position({ viewed }: { viewed: ViewedSong }) {
  const [shown, setShown] = useState('1.1')
  const section = useRef<string | null>(null)
  useEffect(
    () =>
      everyTold(now => {
        const { at, there } = chartPlace(viewed, now)
        setShown(there ? nameOf(viewed.timeline, at) : '–')
        const here = there ? sectionAt(viewed.timeline, ticks(at)) : null
        if (!here || here.id === section.current) return
        if (section.current !== null) say(`${viewed.song.sections[here.id]?.name}, bar ${here.firstBar + 1}`)
        section.current = here.id
      }),
    [viewed],
  )
  return (
    <output className="count score" aria-label="Position" aria-live="off">
      {shown}
    </output>
  )
}

function nameOf(timeline: Timeline, at: number): string {
  const { bar, beat } = barBeatAt(timeline.meters, ticks(at))
  return `${bar + 1}.${beat + 1}`
}

export function GoToBar({ bars }: { bars: number }) {
  const [text, setText] = useState('')
  const field = useRef<HTMLInputElement>(null)
  const go = (event: FormEvent) => {
    event.preventDefault()
    const bar = Number.parseInt(text, 10)
    if (Number.isFinite(bar)) goToBar(bar)
    setText('')
    // Back to the page, so that the keys play again.
    field.current?.blur()
  }
  return (
    <form className="read go" onSubmit={go}>
      <label htmlFor="go-to-bar">Go to bar</label>
      <input
        ref={field}
        id="go-to-bar"
        inputMode="numeric"
        pattern="[0-9]*"
        autoComplete="off"
        placeholder={`1–${bars}`}
        value={text}
        onChange={e => setText(e.target.value)}
        onKeyDown={e => {
          if (e.key !== 'Escape') return
          setText('')
          e.currentTarget.blur()
        }}
      />
    </form>
  )
}
