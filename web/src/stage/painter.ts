// Paints the stage: haze, halo and core of every piece, added as light adds, with the band's things in between.

import type { Stage } from '@glowchart/shared/rig/stage.ts'
import { type Piece, piecesOf } from './pieces.ts'
import { drawSilhouettes } from './silhouettes.ts'
import { hazeSprite, type Sprite, spriteOf, type Tinted } from './sprites.ts'
import { type Spot, sizeOf, spotOf, type View } from './view.ts'

type Pen = CanvasRenderingContext2D

interface Drawn {
  readonly spot: Spot
  readonly pieces: readonly (Piece & { readonly sprite: Sprite })[]
  /** Reach of its haze, px, and how much taller than wide it is. */
  readonly haze: number
  readonly tall: number
  /** Width of its reflection on the floor, px; 0 where there is none. */
  readonly shine: number
}

/** The haze is painted this much smaller, as nobody sees its pixels. */
const HAZE_SCALE = 1 / 4
/** Linear light to the canvas' scale: a little flatter than sRGB, so that a low level reads beside a full one. */
const shown = (linear: number): number => Math.min(1, linear) ** (1 / 2)
const DARK = 0.004

export interface Painter {
  /**
   * @param light linear, 3 floats a cell of the stage
   * @param hatched fixtures (by index) whose strobe is drawn as hatch over its mean; none when left out
   */
  paint(light: Float32Array, hatched?: Uint8Array): void
}

/** @param hasStage whether there is a floor under the lights, and the band's things among them */
export function stagePainter(
  canvas: HTMLCanvasElement,
  stage: Stage,
  view: View,
  scale: number,
  hasStage = true,
): Painter {
  canvas.width = Math.round(view.width * scale)
  canvas.height = Math.round(view.height * scale)
  const pen = canvas.getContext('2d')!
  const { mist, mistPen, glow, shine, drawn, spots, still, things, behind, before } = preparedFor(
    stage,
    view,
    scale,
    hasStage,
  )

  return {
    paint(light, hatched) {
      paintMist(mistPen, drawn, light, view, glow, shine)
      pen.setTransform(1, 0, 0, 1, 0, 0)
      pen.globalAlpha = 1
      pen.globalCompositeOperation = 'copy'
      pen.drawImage(mist, 0, 0, canvas.width, canvas.height)
      pen.globalCompositeOperation = 'source-over'
      pen.drawImage(still, 0, 0)
      for (const d of behind) paintFixture(pen, d, light, scale)
      pen.setTransform(1, 0, 0, 1, 0, 0)
      pen.globalCompositeOperation = 'source-over'
      pen.globalAlpha = 1
      pen.drawImage(things, 0, 0)
      for (const d of before) paintFixture(pen, d, light, scale)
      if (hatched) for (const [i, spot] of spots.entries()) if (hatched[i]) hatch(pen, spot, view, scale)
    },
  }
}

type Prepared = ReturnType<typeof prepare>

/** The pictures of a stage in the last views that were asked for, the newest last. */
const prepared = new WeakMap<Stage, Map<string, Prepared>>()
const MOST_VIEWS = 4

/** Small pictures of one stage are many, and come and go with every cue that is chosen: what they share is drawn once. */
function preparedFor(stage: Stage, view: View, scale: number, hasStage: boolean): Prepared {
  const views = prepared.get(stage) ?? new Map<string, Prepared>()
  prepared.set(stage, views)
  const key = JSON.stringify([view, scale, hasStage])
  const ready = views.get(key) ?? prepare(stage, view, scale, hasStage)
  views.delete(key)
  views.set(key, ready)
  for (const oldest of views.keys()) {
    if (views.size <= MOST_VIEWS) break
    views.delete(oldest)
  }
  return ready
}

/** All that is the same in every frame. */
function prepare(stage: Stage, view: View, scale: number, hasStage: boolean) {
  const mist = document.createElement('canvas')
  mist.width = Math.ceil(view.width * HAZE_SCALE)
  mist.height = Math.ceil(view.height * HAZE_SCALE)
  const sprites = new Map<string, Sprite>()
  const drawn = stage.fixtures.map((fixture): Drawn => {
    const spot = spotOf(fixture, view)
    const pieces = piecesOf(fixture, view.metre).map(piece => {
      const key = JSON.stringify(piece.outline)
      let sprite = sprites.get(key)
      if (!sprite) {
        sprite = spriteOf(piece.outline, scale, HAZE_SCALE)
        sprites.set(key, sprite)
      }
      return { ...piece, sprite }
    })
    return { spot, pieces, ...spillOf(spot, view), ...(hasStage ? {} : { shine: 0 }) }
  })
  drawn.sort((a, b) => b.spot.fixture.place.y - a.spot.fixture.place.y)
  return {
    mist,
    mistPen: mist.getContext('2d')!,
    glow: hazeSprite(48),
    shine: shineSprite(),
    drawn,
    spots: stage.fixtures.map(f => spotOf(f, view)),
    still: stillLayer(drawn, view, scale, hasStage),
    things: layer(view, scale, p => hasStage && drawSilhouettes(p, view)),
    behind: drawn.filter(d => !d.spot.inFront),
    before: drawn.filter(d => d.spot.inFront),
  }
}

/** How far a fixture lights the haze and the floor, by its size and height. */
function spillOf({ fixture }: Spot, view: View): Pick<Drawn, 'haze' | 'tall' | 'shine'> {
  const { long } = fixture.size
  const m = view.metre
  switch (fixture.shape) {
    case 'tube':
      return { haze: m * 1.5, tall: 1 + long * 0.4, shine: m * 0.4 }
    case 'ring':
      return { haze: m * (1.2 + long * 0.7), tall: 1, shine: m * (0.3 + long * 0.5) }
    case 'bulb':
      return { haze: m * 1.1, tall: 1, shine: m * 0.3 }
    case 'letters':
      return { haze: m * (1.1 + long * 0.5), tall: 0.85, shine: m * (0.2 + long * 0.5) }
    default:
      return { haze: m * (0.9 + long * 0.7), tall: 0.8, shine: m * long }
  }
}

function paintMist(
  pen: Pen,
  drawn: readonly Drawn[],
  light: Float32Array,
  view: View,
  glow: Tinted,
  shine: Tinted,
): void {
  pen.setTransform(1, 0, 0, 1, 0, 0)
  pen.globalCompositeOperation = 'source-over'
  pen.clearRect(0, 0, pen.canvas.width, pen.canvas.height)
  pen.globalCompositeOperation = 'lighter'
  pen.setTransform(HAZE_SCALE, 0, 0, HAZE_SCALE, 0, 0)
  room.fill(0)
  for (const d of drawn) {
    const { firstCell, cells } = d.spot.fixture
    meanOf(light, firstCell, cells)
    if (Math.max(...colour) < DARK) continue
    for (let i = 0; i < 3; i++) room[i]! += colour[i]!
    const { x, y } = d.spot
    const tall = d.haze * d.tall
    tint(pen, glow, colour, 0.74, { x: x - d.haze, y: y - tall, width: d.haze * 2, height: tall * 2 })
    if (d.shine === 0) continue
    const height = view.height - view.floor + 24
    const floor = { x: x - d.shine, y: view.floor - 1, width: d.shine * 2, height }
    tint(pen, shine, colour, 0.8 * nearFloor(d, view), floor)
  }
  for (const d of drawn) paintHalos(pen, d, light)
  pen.setTransform(HAZE_SCALE, 0, 0, HAZE_SCALE, 0, 0)
  // The room itself, lit by all of it together.
  for (let i = 0; i < 3; i++) room[i]! *= 2.2 / Math.max(6, drawn.length)
  const width = (view.right - view.left) * 1.25
  const x = (view.left + view.right - width) / 2
  tint(pen, glow, room, 0.5, { x, y: view.floor - view.metre * 2.2, width, height: view.metre * 3.4 })
}

const nearFloor = (d: Drawn, view: View): number =>
  Math.max(0.25, 1 - (view.floor - d.spot.y) / (view.metre * 3.2))

// Written for every fixture of every frame, so made once.
const colour = new Float32Array(3)
const room = new Float32Array(3)

/** Writes the mean light of some cells into `colour`. */
function meanOf(light: Float32Array, firstCell: number, cells: number): void {
  colour.fill(0)
  for (let i = 3 * firstCell; i < 3 * (firstCell + cells); i++) colour[i % 3]! += light[i]! / cells
}

interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** Adds a picture in a colour (linear) at a strength, 0…1; about the pen's origin, as large as it is, or in a box. */
function tint(pen: Pen, picture: Tinted, light: Float32Array, strength: number, box?: Box): void {
  const { primaries, across, up } = picture
  for (let i = 0; i < 3; i++) {
    if (light[i]! < DARK / 4) continue
    pen.globalAlpha = Math.min(1, shown(light[i]!) * strength)
    if (box) pen.drawImage(primaries[i]!, box.x, box.y, box.width, box.height)
    else pen.drawImage(primaries[i]!, -across, -up, across * 2, up * 2)
  }
}

/** Moves the pen to the middle of a piece. */
function moveTo(pen: Pen, spot: Spot, piece: Piece, scale: number): void {
  pen.setTransform(scale, 0, 0, scale, spot.x * scale, spot.y * scale)
  pen.rotate(spot.turn)
  pen.translate(piece.x, piece.y)
  pen.rotate(piece.turn)
}

function paintHalos(pen: Pen, { spot, pieces }: Drawn, light: Float32Array): void {
  for (const piece of pieces) {
    meanOf(light, piece.firstCell, piece.cells)
    const level = Math.max(...colour)
    if (level < DARK) continue
    moveTo(pen, spot, piece, HAZE_SCALE)
    tint(pen, piece.sprite.halo, colour, 0.5 + 0.5 * level)
  }
}

function paintFixture(pen: Pen, { spot, pieces }: Drawn, light: Float32Array, scale: number): void {
  pen.globalCompositeOperation = 'lighter'
  for (const piece of pieces) {
    meanOf(light, piece.firstCell, piece.cells)
    const level = Math.max(...colour)
    if (level < DARK / 4) continue
    const { core, lamp } = piece.sprite
    moveTo(pen, spot, piece, scale)
    tint(pen, lamp, colour, 1)
    // A lamp that is full on burns out towards white in its middle.
    pen.globalAlpha = 0.5 * shown(level) * level
    if (pen.globalAlpha > 0.02) pen.drawImage(core, -lamp.across, -lamp.up, lamp.across * 2, lamp.up * 2)
  }
}

/** Slanted dark lines over a fixture: it flashes, and the picture does not. */
function hatch(pen: Pen, spot: Spot, view: View, scale: number): void {
  const { width, height } = sizeOf(spot, view.metre)
  pen.setTransform(scale, 0, 0, scale, spot.x * scale, spot.y * scale)
  pen.globalCompositeOperation = 'source-over'
  pen.globalAlpha = 1
  pen.strokeStyle = '#08070b'
  pen.lineWidth = 1.6
  pen.beginPath()
  for (let y = -height / 2; y < height / 2; y += 5) {
    pen.moveTo(-width / 2, y + 4)
    pen.lineTo(width / 2, y - 4)
  }
  pen.stroke()
}

function layer(view: View, scale: number, draw: (pen: Pen) => unknown): HTMLCanvasElement {
  const canvas = document.createElement('canvas')
  canvas.width = Math.round(view.width * scale)
  canvas.height = Math.round(view.height * scale)
  const pen = canvas.getContext('2d')!
  pen.scale(scale, scale)
  draw(pen)
  return canvas
}

/** What does not change: cables of what hangs, outlines of what is dark, the edge of the floor. */
function stillLayer(
  drawn: readonly Drawn[],
  view: View,
  scale: number,
  hasFloor: boolean,
): HTMLCanvasElement {
  return layer(view, scale, pen => {
    pen.lineWidth = 0.8
    pen.strokeStyle = 'rgba(243,236,223,.10)'
    for (const { spot } of drawn) {
      if (!spot.hangs) continue
      pen.beginPath()
      pen.moveTo(spot.x, 0)
      pen.lineTo(spot.x, spot.y - 4)
      pen.stroke()
    }
    for (const { spot, pieces } of drawn) {
      for (const piece of pieces) {
        const { dark, lamp } = piece.sprite
        moveTo(pen, spot, piece, scale)
        pen.drawImage(dark, -lamp.across, -lamp.up, lamp.across * 2, lamp.up * 2)
      }
    }
    if (!hasFloor) return
    pen.setTransform(scale, 0, 0, scale, 0, 0)
    const fade = pen.createLinearGradient(view.left, 0, view.right, 0)
    fade.addColorStop(0, 'rgba(243,236,223,0)')
    fade.addColorStop(0.5, 'rgba(243,236,223,.10)')
    fade.addColorStop(1, 'rgba(243,236,223,0)')
    pen.fillStyle = fade
    pen.fillRect(view.left, view.floor + 0.5, view.right - view.left, 1)
  })
}

/** A reflection on a dull floor: the lower half of a glow, bright at its top. */
function shineSprite(): Tinted {
  const half = 32
  const cut = (picture: HTMLCanvasElement) => {
    const canvas = document.createElement('canvas')
    canvas.width = half * 2
    canvas.height = half
    canvas.getContext('2d')!.drawImage(picture, 0, -half)
    return canvas
  }
  return { primaries: hazeSprite(half).primaries.map(cut), across: half, up: half / 2 }
}
