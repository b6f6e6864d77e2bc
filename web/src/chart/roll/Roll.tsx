// The light roll of one line: asked for when the line comes onto the page, and kept up while the next one is drawn.

import { useEffect, useMemo, useRef } from 'react'
import type { PlacedLine } from '../page.ts'
import type { RollShape } from './request.ts'
import type { Rolls } from './rolls.ts'

const PAD = 10

interface Props {
  rolls: Rolls
  /** Goes up with every change of the song. */
  version: number
  at: PlacedLine
  barWidth: number
  nearness: () => number
}

export function Roll({ rolls, version, at, barWidth, nearness }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const { line, rows, rowsHeight, open } = at
  const shape = useMemo<RollShape>(
    () => ({
      edges: line.edges,
      barWidth,
      rows: rows.map(r => ({ y: r.y, height: r.height, strands: r.part.strands })),
      height: rowsHeight,
      pad: PAD,
      bloom: open ? 5 : 3,
      scale: Math.min(2, window.devicePixelRatio || 1),
    }),
    [line, rows, rowsHeight, open, barWidth],
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new version is a new picture of the same shape.
  useEffect(
    () =>
      rolls.wish(shape, nearness, picture => {
        const surface = canvas.current
        if (!surface) return
        surface.width = picture.width
        surface.height = picture.height
        surface.getContext('2d')?.drawImage(picture, 0, 0)
      }),
    [rolls, shape, version, nearness],
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
