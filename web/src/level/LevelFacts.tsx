// The level of one cue in the cue column: one value, or points, each with its place and level.

import type { CuePlace } from '@glowchart/shared/time/timeline.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { useState } from 'react'
import { toLevel } from '../chart/walk.ts'
import { shareScale, spanScale, spanText } from '../cue/values.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'
import { levelOf, putLevel } from './change.ts'
import './level.css'
import { moved, peakOf, without } from './points.ts'

interface Props {
  viewed: ViewedSong
  place: CuePlace
  bar: Ticks
  beat: Ticks
}

export function LevelFacts({ viewed, place, bar, beat }: Props) {
  const [picked, setPicked] = useState(0)
  const now = levelOf(viewed, place)
  if (!now) return null
  const { level, points } = now
  if (typeof level === 'number') {
    return (
      <div className="level-facts">
        <button type="button" className="btn quiet" title="Level points (V)" onClick={toLevel}>
          Level in points
        </button>
      </div>
    )
  }
  const i = Math.min(picked, points.length - 1)
  const point = points[i]!
  const put = (at: number, to: number) => putLevel(viewed.id, place, moved(points, i, at, to))
  return (
    <div className="level-facts points">
      <label className="figure">
        <span>Point</span>
        <select value={i} onChange={event => setPicked(Number(event.target.value))}>
          {points.map((_, n) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: points have no names.
            <option key={n} value={n}>
              {n + 1} of {points.length}
            </option>
          ))}
        </select>
      </label>
      <Figure
        {...shareScale}
        key={`level ${i}`}
        label={`Level of point ${i + 1}`}
        short="level"
        value={point.level}
        onChange={to => put(point.at, to)}
      />
      <Figure
        {...spanScale(bar, 0, beat / 2)}
        key={`at ${i}`}
        label={`Place of point ${i + 1}`}
        short="at"
        text={at => (at === 0 ? 'its start' : spanText(at, bar))}
        value={ticks(Math.max(0, point.at))}
        onChange={to => put(to, point.level)}
      />
      <button
        type="button"
        className="btn quiet"
        onClick={() => putLevel(viewed.id, place, without(points, i))}
      >
        Remove point
      </button>
      <button type="button" className="btn quiet" onClick={() => putLevel(viewed.id, place, peakOf(level))}>
        One level
      </button>
    </div>
  )
}
