// The playhead: a filament line with a nib that says bar.beat; it turns the page as the song goes on.

import { barBeatAt } from '@glowchart/shared/time/meter.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { type RefObject, useEffect, useRef } from 'react'
import type { ViewedSong } from '../document/viewed.ts'
import { everyTold } from '../live/animation.ts'
import { chartPlace } from '../version/on-chart.ts'
import { type Page, spotOf } from './page.ts'
import { lineNeeded, turnTo } from './turn.ts'

interface Props {
  page: Page
  viewed: ViewedSong
  scroller: RefObject<HTMLElement | null>
}

/** How far the nib rises above its stem, px. */
const NIB_ROOM = 4

export function Playhead({ page, viewed, scroller }: Props) {
  const stem = useRef<HTMLDivElement>(null)
  const nib = useRef<HTMLSpanElement>(null)
  // Opened lines and other zooms are no reason to turn: only a playhead that has moved is.
  const turned = useRef({ tick: Number.NaN, key: '' })
  useEffect(() => {
    let drawn = Number.NaN
    return everyTold(now => {
      const { at: tick, there } = chartPlace(viewed, now)
      if (!stem.current || !nib.current) return
      // Where the chart has not what plays, none is better than a wrong one.
      stem.current.style.visibility = there ? '' : 'hidden'
      if (!there || tick === drawn) return
      const spot = spotOf(page, tick)
      if (!spot) return
      drawn = tick
      const { at, x, index } = spot
      // Over a folded line the nib stands higher, so that it does not cover the looks' names.
      const rise = at.open ? 0 : 8
      // The first line has no room above: there the nib stays on the page.
      const top = Math.max(NIB_ROOM, at.fieldTop - 3 - rise)
      stem.current.style.transform = `translate(${x - 1}px, ${top}px)`
      stem.current.style.height = `${at.fieldTop + at.head + at.rowsHeight + 4 - top}px`
      const { bar, beat } = barBeatAt(viewed.timeline.meters, ticks(tick))
      const says = `${bar + 1}.${beat + 1}`
      if (nib.current.textContent !== says) nib.current.textContent = says
      const next = lineNeeded(page, index, (x - page.gutter) / page.barWidth)
      const key = page.lines[next]!.line.key
      const last = turned.current
      turned.current = { tick, key }
      if (last.tick === tick || last.key === key || !scroller.current) return
      const { scrollTop, clientHeight } = scroller.current
      const to = turnTo(page, index, next, { top: scrollTop, height: clientHeight })
      if (to !== null) scroller.current.scrollTop = to
    })
  }, [page, viewed, scroller])
  return (
    <div ref={stem} className="playhead" aria-hidden="true">
      <span ref={nib} className="nib" />
    </div>
  )
}
