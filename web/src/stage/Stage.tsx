// The stage across the top of the page: tonight's fixtures, lit by the bytes that are sent to them.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import { usePreferences } from '../document/preferences.ts'
import type { Tonight } from '../document/viewed.ts'
import { captionsOf } from './caption.ts'
import { Fixtures } from './Fixtures.tsx'
import { gatheredOn, useGathered } from './gathered.ts'
import { useLasso } from './lasso.ts'
import { paintLive } from './live-paint.ts'
import { LETTER_FACE } from './sprites.ts'
import './stage.css'
import { spotOf, viewOf } from './view.ts'

/** The band, and how far its light spills onto the page under it, px. */
const BAND = 152
const SPILL = 44
const FLOOR = 138

export function Stage({ rig, tonight }: { rig: Rig; tonight: Tonight }) {
  const { kit, stage } = tonight
  const canvas = useRef<HTMLCanvasElement>(null)
  const [width, setWidth] = useState(0)
  const [hasLetters, setHasLetters] = useState(false)
  const [held, setHeld] = useState(false)
  const rawStrobes = usePreferences(s => s.rawStrobes)
  const calm = useMemo(() => matchMedia('(prefers-reduced-motion: reduce)'), [])

  useEffect(() => {
    const element = canvas.current
    if (!element) return
    const watch = new ResizeObserver(() => setWidth(element.clientWidth))
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

  const view = useMemo(() => {
    const left = width < 900 ? 14 : Math.min(500, width * 0.36)
    return viewOf(kit, stage, { width, height: BAND + SPILL, left, right: width - 14, floor: FLOOR })
  }, [kit, stage, width])
  const captions = useMemo(() => captionsOf(rig, kit), [rig, kit])
  const spots = useMemo(() => stage.fixtures.map(f => spotOf(f, view)), [stage, view])

  const gathered = useGathered()
  const numbers = useMemo(
    () => new Map(gatheredOn(stage, gathered).map(({ id }, i) => [id, i + 1])),
    [stage, gathered],
  )
  const lasso = useLasso(spots)

  useEffect(() => {
    const element = canvas.current
    if (!element || width === 0 || !hasLetters) return
    return paintLive(element, rig, { kit, stage }, view, calm, setHeld)
  }, [rig, kit, stage, view, width, hasLetters, calm])

  return (
    <section className="stage" aria-label="Stage" {...lasso.handlers}>
      <canvas
        ref={canvas}
        role="img"
        aria-label={`The stage seen from the house, with ${stage.fixtures.length} fixtures, as the lights are sent`}
        style={{ height: BAND + SPILL }}
      />
      <Fixtures spots={spots} captions={captions} numbers={numbers} metre={view.metre} width={width} />
      {lasso.outline && (
        <svg className="lasso" aria-hidden="true">
          <polygon points={lasso.outline.map(({ x, y }) => `${x},${y}`).join(' ')} />
        </svg>
      )}
      {stage.fixtures.length === 0 && <p className="bare">Nothing stands on this stage tonight.</p>}
      {(held || rawStrobes) && !calm.matches && (
        <button
          type="button"
          className="strobes"
          aria-pressed={rawStrobes}
          onClick={() => usePreferences.setState({ rawStrobes: !rawStrobes })}
        >
          {rawStrobes ? 'Strobes shown as sent' : 'Strobe held to 3/s in this picture'}
        </button>
      )}
    </section>
  )
}
