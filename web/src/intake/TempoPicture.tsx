// The tempo of a song over its bars as a small picture, with the places where the meter changes.

import type { Song } from '@glowchart/shared/show/song.ts'
import { bpmAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { useMemo } from 'react'

const WIDTH = 280
const HEIGHT = 40
const POINTS = 140
/** More than these would run into each other. */
const MOST_METERS = 8

export function TempoPicture({ song }: { song: Song }) {
  const { timeline, path, slowest, fastest } = useMemo(() => pictureOf(song), [song])
  const meters = timeline.meters.filter(({ at }) => at < timeline.length)
  const speed = slowest === fastest ? `${slowest} BPM` : `${slowest} to ${fastest} BPM`
  const words = meters.map(({ meter }) => `${meter.beats}/${meter.unit}`)
  const said = [...new Set(words)].join(', ')
  return (
    <figure className="tempo-picture">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`Tempo ${speed}; meter ${said}`}>
        <path d={path} />
        {meters.slice(0, MOST_METERS).map(({ at }) => (
          <line
            key={at}
            x1={(at / timeline.length) * WIDTH}
            x2={(at / timeline.length) * WIDTH}
            y1="0"
            y2={HEIGHT}
          />
        ))}
      </svg>
      <figcaption>
        {speed}, {said}
      </figcaption>
    </figure>
  )
}

function pictureOf(song: Song) {
  const timeline = timelineOf(song)
  const tempos = Array.from({ length: POINTS + 1 }, (_, i) =>
    bpmAt(timeline.tempo, ticks(Math.floor((timeline.length * i) / POINTS))),
  )
  const low = Math.min(...tempos)
  const high = Math.max(...tempos)
  const y = (bpm: number) => HEIGHT - 5 - ((bpm - low) / Math.max(high - low, 20)) * (HEIGHT - 10)
  const path = tempos.map((bpm, i) => `${i === 0 ? 'M' : 'L'}${(i * WIDTH) / POINTS} ${y(bpm)}`).join('')
  const round = (bpm: number) => Math.round(bpm * 10) / 10
  return { timeline, path, slowest: round(low), fastest: round(high) }
}
