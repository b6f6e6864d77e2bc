// The light on the plan: a glow at every light, in what is sent to it now.

import { fromLevels, levelPlan } from '@glowchart/shared/render/levels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { useEffect, useMemo, useRef } from 'react'
import type { Tonight } from '../../document/viewed.ts'
import { everyTold, repaint } from '../../live/animation.ts'
import { latestFrame, levelsFor } from '../../live/frames.ts'
import { flashLimit } from '../../stage/flash-limit.ts'
import { hazeSprite } from '../../stage/sprites.ts'
import type { Thing } from './things.ts'
import { type PlanView, xOf, yOf } from './view.ts'

interface Props {
  rig: Rig
  tonight: Tonight
  view: PlanView
  things: readonly Thing[]
}

const RADIUS = 60

export function Glow({ rig, tonight: { kit, stage }, view, things }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const glow = useMemo(() => hazeSprite(RADIUS), [])
  const plan = useMemo(() => levelPlan(rig, kit), [rig, kit])
  const placesNow = useMemo(
    () =>
      new Map(
        things.flatMap(t =>
          t.kind === 'box' ? [] : [[t.kind === 'guest' ? t.guest : t.stand.fixture, t.place]],
        ),
      ),
    [things],
  )
  const places = useRef(placesNow)
  // While one is dragged its light comes along.
  useEffect(() => {
    places.current = placesNow
    repaint()
  }, [placesNow])

  useEffect(() => {
    const pen = canvas.current?.getContext('2d')
    if (!pen) return
    const light = new Float32Array(stage.cells * 3)
    const painted = light.slice()
    const limit = flashLimit(stage.fixtures, stage.cells)
    let seen: unknown = null
    let moved: unknown = null
    return everyTold(now => {
      const frame = latestFrame()
      if (!frame || (frame === seen && moved === places.current)) return
      seen = frame
      fromLevels(plan, levelsFor(plan, frame), light)
      // Nothing of the page's own flashes: there is no switch for it here, as on the stage's own picture.
      limit.hold(light, now)
      // A stage at rest is told again and again: painting it costs a battery, and shows nothing.
      if (moved === places.current && light.every((level, i) => level === painted[i])) return
      moved = places.current
      painted.set(light)
      pen.globalCompositeOperation = 'copy'
      pen.fillStyle = 'transparent'
      pen.fillRect(0, 0, view.width, view.height)
      pen.globalCompositeOperation = 'lighter'
      for (const { id, firstCell, cells, size } of stage.fixtures) {
        const place = places.current.get(id)
        if (!place) continue
        const reach = RADIUS * Math.min(1.6, 0.6 + size.long * 0.6)
        for (let i = 0; i < 3; i++) {
          let sum = 0
          for (let c = firstCell; c < firstCell + cells; c++) sum += light[c * 3 + i]!
          const mean = sum / cells
          if (mean < 0.002) continue
          pen.globalAlpha = Math.min(1, mean ** 0.5) * 0.8
          const [x, y] = [xOf(view, place.x), yOf(view, place.y)]
          pen.drawImage(glow.primaries[i]!, x - reach, y - reach, reach * 2, reach * 2)
        }
      }
    })
  }, [plan, stage, view, glow])

  return (
    <div className="glow" aria-hidden="true">
      <canvas ref={canvas} width={view.width} height={view.height} />
    </div>
  )
}
