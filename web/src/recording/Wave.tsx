// The recording behind the bars of one line: its outline, the beats found in it, and a hold to move it by.

import { feltBeat } from '@glowchart/shared/beats/lay.ts'
import { atRate } from '@glowchart/shared/beats/steady.ts'
import { ticksPerBar } from '@glowchart/shared/time/meter.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { type PointerEvent, useEffect, useMemo, useRef } from 'react'
import { type Line, tickInto } from '../chart/lines.ts'
import type { PlacedLine } from '../chart/page.ts'
import { useDocument } from '../document/document.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { useBeats } from './beats.ts'
import { barTime, putBarAt, setStart } from './changes.ts'
import { DECODED_RATE } from './decode.ts'
import { useHeld } from './held.ts'
import { PEAK_SAMPLES, peakBetween } from './peaks.ts'
import { useRecording } from './recordings.ts'
import './recording.css'

interface Props {
  at: PlacedLine
  barWidth: number
  /** Its id. */
  song: string
  timeline: Timeline
}

export function Wave({ at, barWidth, song, timeline }: Props) {
  const file = useRecording(s => s.file)
  const isHere = useDocument(s => file !== null && s.show?.songs[song]?.audio?.file === file)
  return isHere ? <Outline {...{ at, barWidth, song, timeline }} /> : null
}

const PEAKS_A_SECOND = DECODED_RATE / PEAK_SAMPLES
const BEAT = 5
const DOWNBEAT = 12

function Outline({ at, barWidth, song, timeline }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const peaks = useRecording(s => s.peaks)
  const beats = useBeats()
  const { mode, by } = useHeld()
  const { line, head, rowsHeight: height } = at
  const width = line.bars * barWidth
  const start = useDocument(s => s.show?.songs[song]?.audio?.start ?? 0) - by
  const perBar = useDocument(s => {
    const meter = s.show?.songs[song]?.meter
    return meter ? ticksPerBar(meter) / feltBeat(meter) : 1
  })
  const beatTimes = useMemo(() => atRate(beats.found, beats.rate), [beats.found, beats.rate])

  useEffect(() => {
    const surface = canvas.current
    const context = surface?.getContext('2d')
    if (!surface || !context) return
    const scale = Math.min(2, window.devicePixelRatio || 1)
    surface.width = width * scale
    surface.height = height * scale
    context.scale(scale, scale)
    context.fillStyle = getComputedStyle(surface).color
    const timeAt = (x: number) => start + songTime(timeline, line, x / barWidth)
    if (peaks) {
      for (let x = 0; x < width; x++) {
        const peak = peakBetween(peaks, timeAt(x) * PEAKS_A_SECOND, timeAt(x + 1) * PEAKS_A_SECOND)
        const half = (peak * height) / 2
        if (half > 0.1) context.fillRect(x, height / 2 - half, 1, 2 * half)
      }
    }
    context.globalAlpha = 1
    const [from, to] = [timeAt(0), timeAt(width)]
    for (const [i, time] of beatTimes.entries()) {
      if (time < from || time >= to) continue
      const isDown = i >= beats.downbeat && (i - beats.downbeat) % perBar === 0
      const long = isDown ? DOWNBEAT : BEAT
      context.fillStyle = getComputedStyle(surface).getPropertyValue(isDown ? '--bone' : '--bone-3')
      context.fillRect(xOf(time, timeAt, width) - 0.75, 0, i === beats.downbeat ? 3 : 1.5, long)
    }
  }, [peaks, start, perBar, timeline, line, barWidth, width, height, beatTimes, beats.downbeat])

  return (
    <>
      <canvas
        ref={canvas}
        className="wave"
        role="img"
        aria-label={`Recording behind bars ${line.firstBar + 1} to ${line.firstBar + line.bars}`}
        style={{ top: head, width, height }}
      />
      {mode !== 'off' && <Hold {...{ at, barWidth, timeline, mode, by }} />}
    </>
  )
}

/** Seconds of the song at a place on a line, in bars from its start. */
const songTime = (timeline: Timeline, line: Line, bars: number): number =>
  secondsAt(timeline.tempo, ticks(tickInto(line, bars)))

/** Where on a line a time lies: the inverse of a rising function, to a quarter of a px. */
function xOf(time: number, timeAt: (x: number) => number, width: number): number {
  let [low, high] = [0, width]
  while (high - low > 0.25) {
    const middle = (low + high) / 2
    if (timeAt(middle) <= time) low = middle
    else high = middle
  }
  return low
}

interface HoldProps extends Omit<Props, 'song'> {
  mode: 'move' | 'fit'
  by: number
}

/** Over the line while the recording is held: a drag moves it, or pulls the nearest bar line's place in it. */
function Hold({ at, barWidth, timeline, mode, by }: HoldProps) {
  const drag = useRef<{ x: number; from: number } | null>(null)
  const { line } = at
  const barsAt = (event: PointerEvent<HTMLElement>) =>
    (event.clientX - event.currentTarget.getBoundingClientRect().left) / barWidth
  const onPointerMove = (event: PointerEvent<HTMLElement>) => {
    event.stopPropagation()
    const held = drag.current
    if (!held) return
    useHeld.setState({ by: songTime(timeline, line, barsAt(event)) - songTime(timeline, line, held.from) })
  }
  const onPointerUp = (event: PointerEvent<HTMLElement>) => {
    event.stopPropagation()
    const held = drag.current
    drag.current = null
    const viewed = viewedSongNow()
    // A quick hand moves and lets go between two draws of the page.
    const { by } = useHeld.getState()
    if (!held || by === 0 || !viewed?.song.audio) return
    const bar = line.firstBar + Math.round(held.from)
    const done =
      mode === 'move'
        ? setStart(viewed, viewed.song.audio.start - by)
        : putBarAt(viewed, bar, barTime(viewed, bar) - by)
    void done.then(() => useHeld.setState({ by: 0 }))
  }
  const nearest = drag.current ? line.firstBar + Math.round(drag.current.from) + 1 : null
  return (
    <div
      className="wave-hold"
      style={{ top: at.head, height: at.rowsHeight }}
      title={mode === 'move' ? 'Drag the recording' : 'Drag the recording to the bar line it belongs to'}
      onPointerDown={event => {
        event.stopPropagation()
        if (event.button !== 0) return
        event.currentTarget.setPointerCapture(event.pointerId)
        drag.current = { x: event.clientX, from: barsAt(event) }
      }}
      onPointerMove={onPointerMove}
      onPointerUp={onPointerUp}
      onPointerCancel={() => {
        drag.current = null
        useHeld.setState({ by: 0 })
      }}
    >
      {nearest !== null && by !== 0 && (
        <span className="nib" style={{ left: (drag.current?.from ?? 0) * barWidth }}>
          {mode === 'move' ? 'Recording' : `Bar ${nearest}`} {by > 0 ? '+' : '−'}
          {Math.round(Math.abs(by) * 1000)} ms
        </span>
      )}
    </div>
  )
}
