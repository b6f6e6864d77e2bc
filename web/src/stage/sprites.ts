// Glows drawn once and used every frame: for each outline its core and its halo in red, green, blue and white.

import type { Outline } from './pieces.ts'

type Surface = HTMLCanvasElement

/** Half of a picture's sides, CSS px; its middle is the piece's. */
interface Extent {
  readonly across: number
  readonly up: number
}

/** Pictures of one mask in the primaries; adding them in shares makes any colour without a new gradient. */
export interface Tinted extends Extent {
  /** Red, green, blue. */
  readonly primaries: readonly Surface[]
}

export interface Sprite {
  /** The lit piece and the glow close around it. */
  readonly lamp: Tinted
  /** The piece alone, in white. */
  readonly core: Surface
  /** The wide glow around it; few pixels, as it has no edges. */
  readonly halo: Tinted
  /** The outline of a dark fixture, as large as `lamp`. */
  readonly dark: Surface
}

export const LETTER_FACE = '"Besley Variable", Georgia, serif'

function surface({ across, up }: Extent, scale: number): [Surface, CanvasRenderingContext2D] {
  const canvas = document.createElement('canvas')
  canvas.width = Math.ceil(across * 2 * scale)
  canvas.height = Math.ceil(up * 2 * scale)
  const context = canvas.getContext('2d')!
  context.scale(scale, scale)
  context.translate(across, up)
  return [canvas, context]
}

function tinted(mask: Surface, { across, up }: Extent): Tinted {
  const tint = (colour: string) => {
    const canvas = document.createElement('canvas')
    canvas.width = mask.width
    canvas.height = mask.height
    const context = canvas.getContext('2d')!
    context.drawImage(mask, 0, 0)
    context.globalCompositeOperation = 'source-in'
    context.fillStyle = colour
    context.fillRect(0, 0, canvas.width, canvas.height)
    return canvas
  }
  return { primaries: ['#f00', '#0f0', '#00f'].map(tint), across, up }
}

/** One layer of glow: how much the outline is thickened, the blur in thicknesses, and the strength. */
type Glow = readonly [widen: number, blur: number, strength: number]
const close: readonly Glow[] = [
  [1.6, 1.4, 0.36],
  [1.2, 0.5, 0.5],
]
const wide: readonly Glow[] = [
  [3.2, 4.6, 0.34],
  [2.2, 2.2, 0.3],
]

/** @param scale device px a CSS px @param hazeScale the same for the halo */
export function spriteOf(outline: Outline, scale: number, hazeScale: number): Sprite {
  const spread = spreadOf(outline)
  const near = extentOf(outline, spread * 1.9 + 3)
  const far = extentOf(outline, spread * 5 + 6)
  const [lamp, pen] = surface(near, scale)
  trace(pen, outline, 1)
  glow(pen, outline, close, spread, scale)
  const [core, sharp] = surface(near, scale)
  trace(sharp, outline, 1)
  const [halo, soft] = surface(far, hazeScale)
  glow(soft, outline, wide, spread, hazeScale)
  const [dark, thin] = surface(near, scale)
  thin.strokeStyle = 'rgba(132,126,146,.42)'
  thin.lineWidth = 0.9
  edge(thin, outline)
  return { lamp: tinted(lamp, near), core, halo: tinted(halo, far), dark }
}

/** A shadow blurs in every browser, where a filter does not; the shape that casts it stays out of the picture. */
function glow(
  pen: CanvasRenderingContext2D,
  outline: Outline,
  layers: readonly Glow[],
  spread: number,
  scale: number,
): void {
  const away = 2000
  pen.globalCompositeOperation = 'lighter'
  pen.shadowOffsetX = away * scale
  pen.translate(-away, 0)
  for (const [widen, blur, strength] of layers) {
    pen.shadowBlur = spread * blur * scale
    pen.shadowColor = `rgba(255,255,255,${strength})`
    trace(pen, outline, widen)
  }
}

/** A round glow that falls off like haze in front of a lamp. */
export function hazeSprite(radius: number): Tinted {
  const extent = { across: radius, up: radius }
  const [mask, context] = surface(extent, 1)
  const fall = context.createRadialGradient(0, 0, 0, 0, 0, radius)
  for (const [at, strength] of [
    [0, 1],
    [0.14, 0.66],
    [0.32, 0.3],
    [0.56, 0.09],
    [0.8, 0.018],
    [1, 0],
  ] as const) {
    fall.addColorStop(at, `rgba(255,255,255,${strength})`)
  }
  context.fillStyle = fall
  context.fillRect(-radius, -radius, radius * 2, radius * 2)
  return tinted(mask, extent)
}

/** The outline's own extent and so many px around it. */
function extentOf(outline: Outline, around: number): Extent {
  switch (outline.kind) {
    case 'stroke': {
      const thick = outline.width / 2 + around
      return { across: Math.abs(outline.dx) / 2 + thick, up: Math.abs(outline.dy) / 2 + thick }
    }
    case 'disc':
      return square(outline.radius + around)
    case 'arc':
      return square(outline.radius + outline.width + around)
    case 'plate':
      return { across: outline.width / 2 + around, up: outline.height / 2 + around }
    case 'letter':
      return square(outline.size * 0.75 + around)
  }
}

const square = (half: number): Extent => ({ across: half, up: half })

/** The thickness that the halo is measured by, px. */
function spreadOf(outline: Outline): number {
  switch (outline.kind) {
    case 'stroke':
    case 'arc':
      return outline.width * 1.5
    case 'disc':
      return outline.radius * 1.1
    case 'plate':
      return Math.min(9, Math.min(outline.width, outline.height) * 0.5 + 2)
    case 'letter':
      return Math.min(7, outline.size * 0.14)
  }
}

function pathOf(context: CanvasRenderingContext2D, outline: Outline): void {
  context.beginPath()
  if (outline.kind === 'stroke') {
    context.moveTo(-outline.dx / 2, -outline.dy / 2)
    context.lineTo(outline.dx / 2, outline.dy / 2)
  } else if (outline.kind === 'disc') context.arc(0, 0, outline.radius, 0, 2 * Math.PI)
  else if (outline.kind === 'arc')
    context.arc(0, 0, outline.radius, -Math.PI / 2, outline.sweep - Math.PI / 2)
  else if (outline.kind === 'plate') {
    context.rect(-outline.width / 2, -outline.height / 2, outline.width, outline.height)
  }
}

/** Fills a piece's light in white. @param widen factor on its thickness */
function trace(context: CanvasRenderingContext2D, outline: Outline, widen: number): void {
  context.fillStyle = context.strokeStyle = '#fff'
  if (outline.kind === 'letter') {
    context.font = `800 ${outline.size}px ${LETTER_FACE}`
    context.textAlign = 'center'
    context.textBaseline = 'middle'
    context.fillText(outline.text, 0, outline.size * 0.04)
    return
  }
  pathOf(context, outline)
  if (outline.kind === 'stroke' || outline.kind === 'arc') {
    context.lineCap = 'butt'
    context.lineWidth = outline.width * widen
    context.stroke()
  } else context.fill()
}

function edge(context: CanvasRenderingContext2D, outline: Outline): void {
  if (outline.kind === 'letter') {
    context.font = `800 ${outline.size}px ${LETTER_FACE}`
    context.textAlign = 'center'
    context.textBaseline = 'middle'
    context.strokeText(outline.text, 0, outline.size * 0.04)
    return
  }
  pathOf(context, outline)
  context.stroke()
}
