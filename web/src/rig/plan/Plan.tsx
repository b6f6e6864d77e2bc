// The stage plan: boxes with their sockets, the lights and their cables, seen from above; moved by hand or by arrows.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { type RefObject, useEffect, useMemo, useRef, useState } from 'react'
import type { Tonight } from '../../document/viewed.ts'
import { usePlayed } from '../../version/running.ts'
import { useCarried } from '../carry.ts'
import { useRigChoice } from '../choice.ts'
import { useLengthUnit } from '../length.ts'
import { Boxes } from './Boxes.tsx'
import { CableLengths, Cables } from './Cables.tsx'
import { lendFloor } from './floor.ts'
import { Glow } from './Glow.tsx'
import { Ground } from './Ground.tsx'
import { Key } from './Key.tsx'
import { Lights } from './Lights.tsx'
import { useMoving } from './moving.ts'
import './plan.css'
import { moveThing, thingsOf } from './things.ts'
import { placeAt, planView } from './view.ts'

export function Plan({ rig, show, tonight }: { rig: Rig; show: Show; tonight: Tonight }) {
  const { kit } = tonight
  const element = useRef<HTMLDivElement>(null)
  // The frames that come are of what plays, which has its own patch.
  const played = usePlayed()
  const size = useSize(element)
  const unit = useLengthUnit()
  const { box, socket, guest, showsLengths } = useRigChoice()
  const carried = useCarried(s => s.carried?.kind ?? null)
  const { width: across, depth, height: up } = kit.stage
  const view = useMemo(
    () => planView({ width: across, depth, height: up }, size.width, size.height),
    [across, depth, up, size],
  )
  const { moved, handlers } = useMoving(view, thing => moveThing(show.tonight, kit, thing))
  const things = useMemo(() => thingsOf(rig, kit, moved), [rig, kit, moved])
  useEffect(
    () =>
      lendFloor((x, y) => {
        const at = element.current?.getBoundingClientRect()
        if (!at || x < at.left || x > at.right || y < at.top || y > at.bottom) return null
        return placeAt(view, x - at.left, y - at.top)
      }),
    [view],
  )
  const isBare = things.length === 0
  return (
    <section ref={element} className="plan" aria-label="Stage plan" data-carried={carried ?? undefined}>
      {size.width > 0 && (
        <>
          {played && <Glow rig={played.rig} tonight={played.tonight} view={view} things={things} />}
          <svg width={size.width} height={size.height} aria-hidden="true">
            <Ground view={view} unit={unit} />
            <Cables {...{ rig, view, things, unit, box, socket, showsLengths }} />
          </svg>
          <Lights {...{ view, things, box, socket, guest, unit, handlers }} />
          <Boxes {...{ rig, kit, view, things, box, socket, unit, handlers }} />
          <svg className="over" width={size.width} height={size.height} aria-hidden="true">
            <CableLengths {...{ rig, view, things, unit, box, socket, showsLengths }} />
          </svg>
          <Key rig={rig} kit={kit} />
          {isBare && <p className="bare">Drag the first box in.</p>}
        </>
      )}
    </section>
  )
}

function useSize(element: RefObject<HTMLElement | null>): { width: number; height: number } {
  const [size, setSize] = useState({ width: 0, height: 0 })
  useEffect(() => {
    const watched = element.current
    if (!watched) return
    const watch = new ResizeObserver(() =>
      setSize({ width: watched.clientWidth, height: watched.clientHeight }),
    )
    watch.observe(watched)
    return () => watch.disconnect()
  }, [element])
  return size
}
