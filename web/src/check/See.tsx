// The stage, large, as the bytes on the wire light it; the light under check is ringed.

import type { Run } from '@glowchart/shared/check/run.ts'
import type { Group } from '@glowchart/shared/check/stations.ts'
import { fromLevels, levelPlan } from '@glowchart/shared/render/levels.ts'
import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import type { Tonight } from '../document/viewed.ts'
import { everyTold } from '../live/animation.ts'
import { latestFrame, levelsFor } from '../live/frames.ts'
import { stagePainter } from '../stage/painter.ts'
import { LETTER_FACE } from '../stage/sprites.ts'
import { sizeOf, spotOf, type View, viewOf } from '../stage/view.ts'
import { stationsOf } from './checking.ts'

interface Props {
  rig: Rig
  tonight: Tonight
  run: Run
  groups: readonly Group[]
}

/** Floor that is seen under the stage, px: less of it in a low picture. */
const foreOf = (height: number): number => Math.min(46, height * 0.2)
/** A stage is drawn at most this much taller than it is wide. */
const TALL = 1.5

export function See({ rig, tonight, run, groups }: Props) {
  const { kit, stage } = tonight
  const frame = useRef<HTMLDivElement>(null)
  const canvas = useRef<HTMLCanvasElement>(null)
  const [room, setRoom] = useState({ width: 0, height: 0 })
  const [hasLetters, setHasLetters] = useState(false)

  useEffect(() => {
    const element = frame.current
    if (!element) return
    const watch = new ResizeObserver(() =>
      setRoom({ width: element.clientWidth, height: element.clientHeight }),
    )
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  useEffect(() => {
    let wanted = true
    document.fonts.load(`800 40px ${LETTER_FACE}`).finally(() => wanted && setHasLetters(true))
    return () => {
      wanted = false
    }
  }, [])

  const view = useMemo((): View | null => {
    if (room.width < 40 || room.height < 80) return null
    const margin = room.width < 500 ? 14 : 48
    const band = { width: room.width, left: margin, right: room.width - margin }
    const fore = foreOf(room.height)
    const full = viewOf(kit, stage, { ...band, height: room.height, floor: room.height - fore })
    const most = (TALL * (band.right - band.left)) / kit.stage.width
    if (full.metre <= most) return full
    const floor = 10 + ((full.floor - 10) * most) / full.metre
    return viewOf(kit, stage, { ...band, height: floor + fore, floor })
  }, [kit, stage, room])

  useEffect(() => {
    const element = canvas.current
    if (!element || !view || !hasLetters) return
    const painter = stagePainter(element, stage, view, Math.min(2, devicePixelRatio || 1))
    const plan = levelPlan(rig, kit)
    const light = new Float32Array(stage.cells * 3)
    painter.paint(light)
    const painted = light.slice()
    let seen: unknown = null
    return everyTold(() => {
      const latest = latestFrame()
      if (!latest || latest === seen) return
      seen = latest
      fromLevels(plan, levelsFor(plan, latest), light)
      // A light that is held up is told again and again: painting it costs a phone's battery, and shows nothing.
      if (light.every((level, i) => level === painted[i])) return
      painted.set(light)
      painter.paint(light)
    })
  }, [rig, kit, stage, view, hasLetters])

  const key = run.trying === '' ? run.at : run.trying
  const isOn = run.mode === 'checking' || run.mode === 'asking' || run.mode === 'halted'
  const id = isOn ? stationsOf(groups).find(station => station.key === key)?.fixture : undefined
  const fixture = stage.fixtures.find(one => one.id === id)
  return (
    <div ref={frame} className="picture">
      <div style={view ? { height: view.height } : undefined}>
        <canvas
          ref={canvas}
          role="img"
          aria-label={
            fixture
              ? `The stage seen from the house, ${fixture.name} ringed, as the lights are sent`
              : 'The stage seen from the house, as the lights are sent'
          }
        />
        {view && fixture && <Ring view={view} fixture={fixture} />}
      </div>
    </div>
  )
}

function Ring({ view, fixture }: { view: View; fixture: Tonight['stage']['fixtures'][number] }) {
  const spot = spotOf(fixture, view)
  const { width, height } = sizeOf(spot, view.metre)
  const [w, h] = [width + 18, height + 18]
  return <i className="ring" style={{ left: spot.x - w / 2, top: spot.y - h / 2, width: w, height: h }} />
}
