// A small picture of light over time, by the renderer that the engine has.

import { useEffect, useMemo, useRef } from 'react'
import type { RollShape } from '../chart/roll/request.ts'
import type { Rolls } from '../chart/roll/rolls.ts'
import type { Strand } from '../chart/rows.ts'

interface Props {
  rolls: Rolls | null
  /** Goes up with every change of what is drawn. */
  version: number
  /** Start and end in ticks. */
  span: readonly [number, number]
  rows: readonly (readonly Strand[])[]
  width: number
  height: number
  /** The least is drawn first. */
  turn: number
}

const PAD = 3

export function Picture({ rolls, version, span, rows, width, height, turn }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [from, to] = span
  const shape = useMemo<RollShape>(() => {
    const gap = rows.length > 1 ? 4 : 0
    const total = rows.reduce((sum, strands) => sum + Math.max(2, strands.length), 0)
    const room = height - gap * (rows.length - 1)
    let y = 0
    return {
      edges: [from, to],
      barWidth: width,
      rows: rows.map(strands => {
        const row = { y, height: (room * Math.max(2, strands.length)) / total, strands }
        y += row.height + gap
        return row
      }),
      height,
      pad: PAD,
      bloom: 3,
      scale: Math.min(2, window.devicePixelRatio || 1),
    }
  }, [from, to, rows, width, height])
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new version is a new picture of the same shape.
  useEffect(
    () =>
      rolls?.wish(
        shape,
        () => turn,
        picture => {
          const surface = canvas.current
          if (!surface) return
          surface.width = picture.width
          surface.height = picture.height
          surface.getContext('2d')?.drawImage(picture, 0, 0)
        },
      ),
    [rolls, shape, version],
  )
  return <canvas ref={canvas} style={{ width: width + 2 * PAD, height: height + 2 * PAD, margin: -PAD }} />
}
