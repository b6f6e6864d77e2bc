// A build as it will look on a stage, lit with a motion by the renderer and the levels that the engine has.

import type { Light } from '@glowchart/shared/light/schema.ts'
import { compileLook } from '@glowchart/shared/render/compile.ts'
import { fromLevels, levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import type { Build, Rig } from '@glowchart/shared/rig/schema.ts'
import { type Stage, stageOf } from '@glowchart/shared/rig/stage.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import { everyRepaint } from '../../live/animation.ts'
import { plainMotion } from '../../look/stage-now.ts'
import { stagePainter } from '../../stage/painter.ts'
import { LETTER_FACE } from '../../stage/sprites.ts'
import type { View } from '../../stage/view.ts'
import { Pick } from '../Pick.tsx'
import { metres } from './words.ts'

const HEIGHT = 210
/** Px a metre at most: a bulb is not to fill the picture. */
const MOST_SCALE = 420
/** Ticks a ms at the 120 beats a minute in which a look stands, and the moment that a still one shows. */
const PACE = 1.92
const STILL = 2400
/** Pictures are seldom worth more frames than this, ms each. */
const FRAME = 40
/** A strobe in a picture is its mean: nothing in the page's own furniture flashes. */
const live = { ...freshLive(), strobeStop: true }

const lights = {
  white: 'All white',
  swell: 'Swell',
  chase: 'Chase',
  drift: 'Drift',
} as const
type Lit = keyof typeof lights

const warm = { hex: '#ffb35c' }
const cool = { hex: '#4a7dff' }

function lightOf(lit: Lit, cells: number): Light {
  if (lit === 'white') {
    return { level: 1, colours: { along: 'none', colour: { hex: '#ffffff' } }, motion: plainMotion }
  }
  const along = lit === 'swell' || cells === 1 ? 'motion' : 'part'
  return {
    level: 1,
    colours: {
      along,
      stops: [
        { at: 0, colour: cool },
        { at: 1, colour: warm },
      ],
    },
    motion: { ...plainMotion, kind: lit, by: 'cell', floor: 0.12, shape: 0.7 },
  }
}

export function BuildPicture({ build, show }: { build: Build; show: Show }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [width, setWidth] = useState(0)
  const [hasLetters, setHasLetters] = useState(false)
  const [lit, setLit] = useState<Lit>('swell')
  const [moves, setMoves] = useState(() => !matchMedia('(prefers-reduced-motion: reduce)').matches)

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

  const alone = useMemo(() => standingAlone(build, show, lit), [build, show, lit])
  const metre = scaleOf(build, width)

  useEffect(() => {
    if (!canvas.current || width === 0 || !hasLetters) return
    const { song, stage, plan } = alone
    const view = viewOf(build, metre, width)
    const painter = stagePainter(canvas.current, stage, view, Math.min(2, devicePixelRatio || 1), false)
    const scratch = renderScratch(song)
    const light = new Float32Array(stage.cells * 3)
    const levels = new Uint8Array(512)
    const paint = (tick: number) => {
      renderLight(song, tick, tick, live, scratch, light)
      // Through the bytes and back: a decoder's steps and a white balance are seen as they are sent.
      toLevels(plan, light, levels)
      fromLevels(plan, levels, light)
      painter.paint(light)
    }
    paint(STILL)
    if (!moves || lit === 'white') return
    const begun = performance.now()
    let last = 0
    return everyRepaint(now => {
      if (now - last < FRAME) return
      last = now
      paint(STILL + (now - begun) * PACE)
    })
  }, [alone, build, metre, width, hasLetters, moves, lit])

  const rule = ruleOf(metre)
  return (
    <figure className="build-picture">
      <canvas
        ref={canvas}
        role="img"
        aria-label={`${build.name} as it will look, ${lights[lit].toLowerCase()}`}
        style={{ height: HEIGHT }}
      />
      <span className="rule" style={{ width: rule * metre }} aria-hidden="true">
        {metres(rule)}
      </span>
      <figcaption>
        <Pick
          label="Lit with"
          value={lit}
          options={Object.entries(lights) as [Lit, string][]}
          onChange={setLit}
        />
        <button type="button" className="btn quiet" aria-pressed={!moves} onClick={() => setMoves(!moves)}>
          Hold still
        </button>
      </figcaption>
    </figure>
  )
}

/** The build alone on a stage, in one look. */
function standingAlone(build: Build, show: Show, lit: Lit) {
  const rig: Rig = {
    format: 'glowchart-rig',
    version: 2,
    id: 'picture',
    name: 'Picture',
    builds: { it: build },
    boxes: {},
    fixtures: {},
  }
  const it = {
    name: build.name,
    build: 'it',
    universe: 1,
    address: 1,
    place: { x: 0, y: 1, z: 0 },
    turn: 0,
    trim: 1,
  }
  const kit: Kit = {
    name: 'Picture',
    stage: { width: 4, depth: 2, height: 4 },
    boxes: {},
    guests: { it },
    parts: { it: { fixtures: ['it'], cyclic: build.shape === 'ring' } },
  }
  const pictured: Show = {
    ...show,
    kits: { picture: kit },
    parts: { it: { name: build.name } },
    partOrder: ['it'],
    looks: { picture: { name: 'Look', parts: { it: lightOf(lit, build.cells) } } },
  }
  const stage: Stage = stageOf(rig, kit)
  return { song: compileLook(rig, pictured, 'picture', 'picture'), stage, plan: levelPlan(rig, kit) }
}

/** How far it reaches across and up, m. */
function extentOf({ shape, size }: Build): { across: number; up: number } {
  const { long, across } = size
  if (shape === 'tube') return { across, up: long }
  if (shape === 'bulb' || shape === 'ring') return { across: long, up: long }
  return { across: long, up: shape === 'line' || shape === 'bar' ? across : Math.max(across, long * 0.3) }
}

function scaleOf(build: Build, width: number): number {
  const { across, up } = extentOf(build)
  return Math.min(MOST_SCALE, (HEIGHT - 70) / up, Math.max(40, width - 90) / across)
}

/** The build stands in the middle of the picture. */
function viewOf(build: Build, metre: number, width: number): View {
  const { up } = extentOf(build)
  const stands = build.shape === 'tube' ? (up * metre) / 2 : 0
  // `spotOf` lifts by a hair what stands back on the stage; the floor is let down by as much as the build stands up.
  const floor = HEIGHT / 2 + stands
  return { metre, floor, width, height: HEIGHT, left: 0, right: width, stageWidth: 4 }
}

/** A round length that is seen well at a scale, m. */
const ruleOf = (metre: number): number =>
  [0.05, 0.1, 0.2, 0.5, 1, 2, 5].find(length => length * metre > 48) ?? 10
