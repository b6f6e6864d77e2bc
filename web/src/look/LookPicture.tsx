// A small picture of the stage in a look, by the renderer that the engine has; it moves while it is pointed at.

import { compileLook } from '@glowchart/shared/render/compile.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Look, Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useMemo, useRef } from 'react'
import type { Tonight } from '../document/viewed.ts'
import { everyRepaint } from '../live/animation.ts'
import { stagePainter } from '../stage/painter.ts'
import { LETTER_FACE } from '../stage/sprites.ts'
import { viewOf } from '../stage/view.ts'

interface Props {
  rig: Rig
  show: Show
  tonight: Tonight
  parts: Look['parts']
  width: number
  height: number
  moving: boolean
}

/** Ticks a ms at the 120 beats a minute in which a look stands, and the moment that a still one shows. */
const PACE = 1.92
const STILL = 1920
/** Pictures are seldom worth more frames than this, ms each. */
const FRAME = 40
/** A strobe in a picture is its mean: nothing in the page's own furniture flashes. */
const live = { ...freshLive(), strobeStop: true }

export function LookPicture({ rig, show, tonight, parts, width, height, moving }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const moves = useRef(moving)
  moves.current = moving
  const { swatches, tonight: kit } = show
  // Of the show only the swatches and tonight's kit make the picture.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above.
  const song = useMemo(
    () => compileLook(rig, { ...show, looks: { picture: { name: 'Look', parts } } }, kit, 'picture'),
    [rig, swatches, kit, tonight, parts],
  )
  const painter = useRef<ReturnType<typeof stagePainter> | null>(null)
  const paint = useRef((_tick: number) => {})

  useEffect(() => {
    let wanted = true
    document.fonts.load(`800 40px ${LETTER_FACE}`).finally(() => {
      if (!wanted || !canvas.current) return
      const band = { width, height, left: 4, right: width - 4, floor: height - 6 }
      const view = viewOf(tonight.kit, tonight.stage, band)
      painter.current = stagePainter(canvas.current, tonight.stage, view, Math.min(2, devicePixelRatio || 1))
      paint.current(STILL)
    })
    return () => {
      wanted = false
      painter.current = null
    }
  }, [tonight, width, height])

  useEffect(() => {
    const scratch = renderScratch(song)
    const light = new Float32Array(song.stage.cells * 3)
    paint.current = tick => {
      renderLight(song, tick, tick, live, scratch, light)
      applyLimits(song, live, light)
      painter.current?.paint(light)
    }
    paint.current(STILL)
  }, [song])

  useEffect(() => {
    if (!moving || matchMedia('(prefers-reduced-motion: reduce)').matches) return
    const begun = performance.now()
    let last = 0
    const end = everyRepaint(now => {
      if (now - last < FRAME) return
      last = now
      paint.current(STILL + (now - begun) * PACE)
    })
    return () => {
      end()
      paint.current(STILL)
    }
  }, [moving])

  return (
    <canvas
      ref={canvas}
      className="look-picture"
      role="img"
      aria-label="The stage in this look"
      style={{ width, height }}
    />
  )
}
