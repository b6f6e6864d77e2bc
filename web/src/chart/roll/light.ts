// The light of one line by column: the frames that the server will send, averaged over the time a column stands for.

import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'

/** Called once a column with the stage's linear light, 3 floats a cell; the array is used again. */
type TakeColumn = (column: number, light: Float32Array) => void

const live = freshLive()

/**
 * Walks a line column by column. A column that holds the start of one or more frames shows their mean; one shorter
 * than a frame shows the frame it lies in.
 * @param edges ticks of the bars' edges; every bar has the same number of columns
 * @param columns in the whole line
 * @param rate frames a second
 */
export function eachColumn(
  song: CompiledSong,
  edges: readonly number[],
  columns: number,
  rate: number,
  take: TakeColumn,
): void {
  const scratch = renderScratch(song)
  const frame = new Float32Array(song.stage.cells * 3)
  const mean = new Float32Array(song.stage.cells * 3)
  const bars = edges.length - 1
  let rendered = -1

  const frameAt = (column: number): number => {
    const place = (column * bars) / columns
    const bar = Math.min(bars - 1, Math.floor(place))
    const tick = edges[bar]! + (place - bar) * (edges[bar + 1]! - edges[bar]!)
    return secondsAt(song.timeline.tempo, ticks(tick)) * rate
  }
  const render = (n: number): void => {
    if (n === rendered) return
    const { from, to } = frameSpan(song, n, rate)
    renderLight(song, from, to, live, scratch, frame)
    // Tonight's trims belong to what is sent; the hands on the masters do not belong to the song.
    applyLimits(song, live, frame)
    rendered = n
  }

  let left = frameAt(0)
  for (let column = 0; column < columns; column++) {
    const right = frameAt(column + 1)
    const first = Math.ceil(left - 1e-7)
    const end = Math.ceil(right - 1e-7)
    left = right
    if (end <= first + 1) {
      render(end <= first ? first - 1 : first)
      take(column, frame)
      continue
    }
    mean.fill(0)
    for (let n = first; n < end; n++) {
      render(n)
      for (let i = 0; i < mean.length; i++) mean[i]! += frame[i]! / (end - first)
    }
    take(column, mean)
  }
}
