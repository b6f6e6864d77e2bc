// The taps on the chart as flags, where they were played: off the grid, until they are kept.

import { barsInto } from '../chart/lines.ts'
import { type Page, spotOf } from '../chart/page.ts'
import { useTapping } from './tapping.ts'
import type { Tap } from './taps.ts'

export function Flags({ page, song }: { page: Page; song: string }) {
  const taps = useTapping(s => (s.song === song ? s.taps : null))
  return taps?.map(tap => <Flag key={tap.id} page={page} tap={tap} />)
}

function Flag({ page, tap }: { page: Page; tap: Tap }) {
  const spot = spotOf(page, tap.at)
  if (!spot) return null
  const { at, x } = spot
  const row = tap.target.kind === 'part' && at.rows.find(r => r.part.part === tap.target.id)
  const top = at.fieldTop + at.head + (row ? row.y : 0)
  const bars =
    tap.to === null ? 0 : Math.min(at.line.bars, barsInto(at.line, tap.to)) - barsInto(at.line, tap.at)
  return (
    <span
      className="tap-flag"
      data-at={tap.at}
      aria-hidden="true"
      style={{
        left: x,
        top,
        height: row ? row.height : at.rowsHeight,
        width: Math.max(7, bars * page.barWidth),
      }}
    />
  )
}
