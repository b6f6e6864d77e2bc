// Paints the stage: haze, halo and core of every piece, added as light adds, with the band's things in between.

import type { Stage } from '@glowchart/shared/rig/stage.ts'
import { type Piece, piecesOf } from './pieces.ts'
import { drawSilhouettes } from './silhouettes.ts'
import { hazeSprite, type Sprite, spriteOf, type Tinted } from './sprites.ts'
import { type Spot, spotOf, type View } from './view.ts'

type Pen = CanvasRenderingContext2D

interface Drawn {
  readonly spot: Spot
  readonly pieces: readonly (Piece & { readonly sprite: Sprite })[]
  /** Reach of its haze, px, and how much taller than wide it is. */
  readonly haze: number
  readonly tall: number
  /** Width of its reflection on the floor, px; 0 for what hangs high. */
  readonly shine: number
}

/** The haze is painted this much smaller, as nobody sees its pixels. */
const HAZE_SCALE = 1 / 4
/** Linear light to the canvas' scale: a little flatter than sRGB, so that a low level reads beside a full one. */
const shown = (linear: number): number => Math.min(1, linear) ** (1 / 2)
const DARK = 0.004

export interface Painter {
  /** @param light linear, 3 floats a cell of the stage */
  paint(light: Float32Array): void
  /** Where the fixtures are drawn, for their captions. */
  readonly spots: readonly Spot[]
}

export function stagePainter(canvas: HTMLCanvasElement, stage: Stage, view: View, scale: number): Painter {
  canvas.width = Math.round(view.width * scale)
  canvas.height = Math.round(view.height * scale)
  const pen = canvas.getContext('2d')!
  const mist = document.createElement('canvas')
  mist.width = Math.ceil(view.width * HAZE_SCALE)
  mist.height = Math.ceil(view.height * HAZE_SCALE)
  const mistPen = mist.getContext('2d')!
  const glow = hazeSprite(48)
  const shine = shineSprite()
  const sprites = new Map<string, Sprite>()
  const drawn = stage.fixtures.map((fixture): Drawn => {
    const spot = spotOf(fixture, view)
    const pieces = piecesOf(fixture, view.metre).map(piece => {
      const key = JSON.stringify(piece.outline)
      let sprite = sprites.get(key)
      if (!sprite) sprites.set(key, (sprite = spriteOf(piece.outline, scale)))
      return { ...piece, sprite }
    })
    return { spot, pieces, ...spillOf(spot, view) }
  })
  drawn.sort((a, b) => b.spot.fixture.place.y - a.spot.fixture.place.y)
  const still = stillLayer(drawn, view, scale)
  const things = layer(view, scale, p => drawSilhouettes(p, view))
  const behind = drawn.filter(d => !d.spot.inFront)
  const before = drawn.filter(d => d.spot.inFront)

  return {
    spots: stage.fixtures.map(f => spotOf(f, view)),
    paint(light) {
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
    },
  }
}

/** How far a fixture lights the haze and the floor, by its size and height. */
function spillOf({ fixture }: Spot, view: View): Pick<Drawn, 'haze' | 'tall' | 'shine'> {
  const { long } = fixture.size
  const m = view.metre
  switch (fixture.shape) {
    case 'tube':
      return { haze: m * 0.95, tall: 1 + long * 0.55, shine: m * 0.34 }
    case 'ring':
      return { haze: m * (0.8 + long * 0.6), tall: 1, shine: m * (0.3 + long * 0.5) }
    case 'bulb':
      return { haze: m * 0.9, tall: 1, shine: m * 0.3 }
    case 'letters':
      return { haze: m * (0.75 + long * 0.35), tall: 0.9, shine: m * (0.2 + long * 0.5) }
    default:
      return { haze: m * (0.6 + long * 0.6), tall: 0.8, shine: m * long }
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
  const mean = [0, 0, 0] as [number, number, number]
  for (const d of drawn) {
    const { firstCell, cells } = d.spot.fixture
    const [r, g, b] = meanOf(light, firstCell, cells)
    if (Math.max(r, g, b) < DARK) continue
    mean[0] += r
    mean[1] += g
    mean[2] += b
    const wide = d.haze * 2
    const tall = wide * d.tall
    tint(pen, glow, r, g, b, 0.46, d.spot.x - wide / 2, d.spot.y - tall / 2, wide, tall)
    const below = view.height - view.floor + 10
    tint(
      pen,
      shine,
      r,
      g,
      b,
      0.4 * nearFloor(d, view),
      d.spot.x - d.shine,
      view.floor - 1,
      d.shine * 2,
      below,
    )
  }
  // The room itself, lit by all of it together.
  const share = Math.max(6, drawn.length) / 2.2
  const wide = (view.right - view.left) * 1.25
  tint(
    pen,
    glow,
    mean[0] / share,
    mean[1] / share,
    mean[2] / share,
    0.3,
    (view.left + view.right - wide) / 2,
    view.floor - view.metre * 2.2,
    wide,
    view.metre * 3.4,
  )
}

const nearFloor = (d: Drawn, view: View): number =>
  Math.max(0.25, 1 - (view.floor - d.spot.y) / (view.metre * 3.2))

const mean3: [number, number, number] = [0, 0, 0]
function meanOf(light: Float32Array, firstCell: number, cells: number): [number, number, number] {
  mean3[0] = mean3[1] = mean3[2] = 0
  for (let i = 3 * firstCell; i < 3 * (firstCell + cells); i += 3) {
    mean3[0] += light[i]! / cells
    mean3[1] += light[i + 1]! / cells
    mean3[2] += light[i + 2]! / cells
  }
  return mean3
}

function tint(
  pen: Pen,
  by: Tinted,
  r: number,
  g: number,
  b: number,
  strength: number,
  x: number,
  y: number,
  w: number,
  h: number,
): void {
  for (const [share, picture] of [
    [r, by.red],
    [g, by.green],
    [b, by.blue],
  ] as const) {
    if (share < DARK) continue
    pen.globalAlpha = Math.min(1, shown(share) * strength)
    pen.drawImage(picture, x, y, w, h)
  }
}

function paintFixture(pen: Pen, { spot, pieces }: Drawn, light: Float32Array, scale: number): void {
  pen.globalCompositeOperation = 'lighter'
  for (const piece of pieces) {
    const [r, g, b] = meanOf(light, piece.firstCell, piece.cells)
    const level = Math.max(r, g, b)
    if (level < DARK / 4) continue
    const { sprite } = piece
    pen.setTransform(scale, 0, 0, scale, spot.x * scale, spot.y * scale)
    pen.rotate(spot.turn)
    pen.translate(piece.x, piece.y)
    pen.rotate(piece.turn)
    const { half } = sprite
    tint(pen, sprite.halo, r, g, b, 0.5 + 0.5 * level, -half, -half, half * 2, half * 2)
    tint(pen, sprite.core, r, g, b, 1, -half, -half, half * 2, half * 2)
    // A lamp that is full on burns out towards white in its middle.
    pen.globalAlpha = 0.5 * shown(level) * level
    pen.drawImage(sprite.core.white, -half, -half, half * 2, half * 2)
  }
}

function layer(view: View, scale: number, draw: (pen: Pen) => void): HTMLCanvasElement {
  const canvas = document.createElement('canvas')
  canvas.width = Math.round(view.width * scale)
  canvas.height = Math.round(view.height * scale)
  const pen = canvas.getContext('2d')!
  pen.scale(scale, scale)
  draw(pen)
  return canvas
}

/** What does not change: cables of what hangs, outlines of what is dark, the edge of the floor. */
function stillLayer(drawn: readonly Drawn[], view: View, scale: number): HTMLCanvasElement {
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
        pen.save()
        pen.translate(spot.x, spot.y)
        pen.rotate(spot.turn)
        pen.translate(piece.x, piece.y)
        pen.rotate(piece.turn)
        const { half, dark } = piece.sprite
        pen.drawImage(dark, -half, -half, half * 2, half * 2)
        pen.restore()
      }
    }
    const fade = pen.createLinearGradient(view.left, 0, view.right, 0)
    fade.addColorStop(0, 'rgba(243,236,223,0)')
    fade.addColorStop(0.5, 'rgba(243,236,223,.10)')
    fade.addColorStop(1, 'rgba(243,236,223,0)')
    pen.fillStyle = fade
    pen.fillRect(view.left, view.floor + 0.5, view.right - view.left, 1)
  })
}

/** A reflection on a dull floor: bright at its top, wider and gone at its foot. */
function shineSprite(): Tinted {
  const half = 32
  const base = hazeSprite(half)
  const cut = (picture: HTMLCanvasElement) => {
    const canvas = document.createElement('canvas')
    canvas.width = half * 2
    canvas.height = half
    canvas.getContext('2d')!.drawImage(picture, 0, -half)
    return canvas
  }
  return { red: cut(base.red), green: cut(base.green), blue: cut(base.blue), white: cut(base.white), half }
}
