// Paints the stage as the lights are sent, frame by frame, with its strobes held to what a screen may flash.

import { fromLevels, levelPlan } from '@glowchart/shared/render/levels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { usePreferences } from '../document/preferences.ts'
import type { Tonight } from '../document/viewed.ts'
import { everyTold } from '../live/animation.ts'
import { latestFrame, levelsFor } from '../live/frames.ts'
import { flashLimit } from './flash-limit.ts'
import { stagePainter } from './painter.ts'
import type { View } from './view.ts'

/**
 * @param calm the person wants no motion: strobes are hatched instead of shown
 * @param told whether strobes are held now, with every frame
 * @returns what ends it
 */
export function paintLive(
  canvas: HTMLCanvasElement,
  rig: Rig,
  { kit, stage }: Tonight,
  view: View,
  calm: MediaQueryList,
  told: (held: boolean) => void,
): () => void {
  const painter = stagePainter(canvas, stage, view, Math.min(2, devicePixelRatio || 1))
  const plan = levelPlan(rig, kit)
  const light = new Float32Array(stage.cells * 3)
  const limit = flashLimit(stage.fixtures, stage.cells)
  painter.paint(light)
  const painted = light.slice()
  let hatched = ''
  let seen: unknown = null
  return everyTold(now => {
    const frame = latestFrame()
    if (!frame || frame === seen) return
    seen = frame
    fromLevels(plan, levelsFor(plan, frame), light)
    const holds = limit.hold(light, now) && (calm.matches || !usePreferences.getState().rawStrobes)
    if (!holds) fromLevels(plan, levelsFor(plan, frame), light)
    told(holds)
    // Nearly all frames of a stage at rest are the same light again: painting it costs a battery, and shows nothing.
    const hatch = holds && calm.matches ? limit.held : undefined
    if (hatched === String(hatch) && light.every((level, i) => level === painted[i])) return
    painted.set(light)
    hatched = String(hatch)
    painter.paint(light, hatch)
  })
}
