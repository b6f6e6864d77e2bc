// A small picture of a kit's stage at a moment of a song, by the renderer that the engine has.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import { stagePainter } from '../../stage/painter.ts'
import { LETTER_FACE } from '../../stage/sprites.ts'
import { viewOf } from '../../stage/view.ts'

interface Props {
  rig: Rig
  show: Show
  kit: string
  song: string
  /** Ticks from the song's start. */
  at: number
  width: number
}

const HEIGHT = 128
/** Strobes are their mean: nothing in the page's own furniture flashes. */
const live = { ...freshLive(), strobeStop: true }

export function StagePicture({ rig, show, kit, song, at, width }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [hasLetters, setHasLetters] = useState(false)
  const compiled = useMemo(() => compileSong(rig, show, kit, song), [rig, show, kit, song])
  const scratch = useMemo(() => renderScratch(compiled), [compiled])
  const { name } = show.kits[kit]!
  useEffect(() => {
    let wanted = true
    document.fonts.load(`800 40px ${LETTER_FACE}`).finally(() => wanted && setHasLetters(true))
    return () => {
      wanted = false
    }
  }, [])
  const painter = useRef<ReturnType<typeof stagePainter> | null>(null)
  useEffect(() => {
    if (!canvas.current || !hasLetters) return
    const band = { width, height: HEIGHT, left: 6, right: width - 6, floor: HEIGHT - 14 }
    const view = viewOf(show.kits[kit]!, compiled.stage, band)
    painter.current = stagePainter(canvas.current, compiled.stage, view, Math.min(2, devicePixelRatio || 1))
  }, [compiled.stage, show.kits, kit, width, hasLetters])
  // biome-ignore lint/correctness/useExhaustiveDependencies: it is painted anew with a new painter, too.
  useEffect(() => {
    const light = new Float32Array(compiled.stage.cells * 3)
    renderLight(compiled, at, at, live, scratch, light)
    applyLimits(compiled, live, light)
    painter.current?.paint(light)
  }, [compiled, scratch, at, hasLetters, width])
  return (
    <canvas
      ref={canvas}
      className="stage-picture"
      role="img"
      aria-label={`The stage of ${name}`}
      style={{ width, height: HEIGHT }}
    />
  )
}
