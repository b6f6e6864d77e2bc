// The live stage, small: what the lights do now.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import type { Tonight } from '../document/viewed.ts'
import { paintLive } from '../stage/live-paint.ts'
import { LETTER_FACE } from '../stage/sprites.ts'
import { viewOf } from '../stage/view.ts'

const FLOOR = 26

export function LiveStage({
  rig,
  tonight,
  width,
  height,
}: {
  rig: Rig
  tonight: Tonight
  width: number
  height: number
}) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [hasLetters, setHasLetters] = useState(false)
  const calm = useMemo(() => matchMedia('(prefers-reduced-motion: reduce)'), [])
  useEffect(() => {
    let wanted = true
    document.fonts.load(`800 40px ${LETTER_FACE}`).finally(() => wanted && setHasLetters(true))
    return () => {
      wanted = false
    }
  }, [])
  useEffect(() => {
    if (!canvas.current || !hasLetters || width < 1) return
    const band = { width, height, left: 6, right: width - 6, floor: height - FLOOR }
    return paintLive(canvas.current, rig, tonight, viewOf(tonight.kit, tonight.stage, band), calm, () => {})
  }, [rig, tonight, width, height, hasLetters, calm])
  return (
    <canvas
      ref={canvas}
      className="live-stage"
      role="img"
      aria-label="What the lights are doing now"
      style={{ width, height }}
    />
  )
}
