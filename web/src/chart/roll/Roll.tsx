// The light roll of one line: asked for when the line comes onto the page, and kept up while the next one is drawn.

import { useLayoutEffect, useMemo, useRef } from 'react'
import type { PlacedLine } from '../page.ts'
import type { Rolls } from './rolls.ts'
import { PAD, shapeOf } from './shape.ts'

interface Props {
  rolls: Rolls
  at: PlacedLine
  barWidth: number
  nearness: () => number
}

export function Roll({ rolls, at, barWidth, nearness }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const { line, rowsHeight } = at
  const shape = useMemo(() => shapeOf(at, barWidth), [at, barWidth])
  // Before the paint, so that a line that comes back with its picture known is never seen without it.
  useLayoutEffect(
    () =>
      rolls.wish(shape, nearness, picture => {
        const surface = canvas.current
        if (!surface) return
        surface.width = picture.width
        surface.height = picture.height
        surface.getContext('2d')?.drawImage(picture, 0, 0)
      }),
    [rolls, shape, nearness],
  )
  return (
    <canvas
      ref={canvas}
      className="roll"
      role="img"
      aria-label={`Light of bars ${line.firstBar + 1} to ${line.firstBar + line.bars}`}
      style={{
        left: -PAD,
        top: at.head - PAD,
        width: line.bars * barWidth + 2 * PAD,
        height: rowsHeight + 2 * PAD,
      }}
    />
  )
}
