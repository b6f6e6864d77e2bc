// Glows drawn once and used every frame: for each outline its core and its halo in red, green, blue and white.

import type { Outline } from './pieces.ts'

type Surface = HTMLCanvasElement

/** Pictures of one mask in the primaries; adding them in shares makes any colour without a new gradient. */
export interface Tinted {
  /** Red, green, blue. */
  readonly primaries: readonly Surface[]
  readonly white: Surface
}

export interface Sprite {
  readonly core: Tinted
  readonly halo: Tinted
  /** The outline of a dark fixture. */
  readonly dark: Surface
  /** Half of the side of all of them, CSS px: where the middle lies. */
  readonly half: number
}

export const LETTER_FACE = '"Besley Variable", Georgia, serif'

function surface(side: number, scale: number): [Surface, CanvasRenderingContext2D] {
  const canvas = document.createElement('canvas')
  canvas.width = canvas.height = Math.ceil(side * scale)
  const context = canvas.getContext('2d')!
  context.scale(scale, scale)
  return [canvas, context]
}

function tinted(mask: Surface): Tinted {
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
  return { primaries: ['#f00', '#0f0', '#00f'].map(tint), white: tint('#fff') }
}

/** @param scale device px a CSS px */
export function spriteOf(outline: Outline, scale: number): Sprite {
  const reach = reachOf(outline)
  const spread = spreadOf(outline)
  const half = reach + spread * 5 + 6
  const [core, sharp] = surface(half * 2, scale)
  sharp.translate(half, half)
  trace(sharp, outline, 1)
  const [halo, soft] = surface(half * 2, scale)
  // A shadow blurs in every browser, where a filter does not; the shape that casts it stays out of the picture.
  soft.shadowOffsetX = half * 4 * scale
  soft.translate(half - half * 4, half)
  soft.globalCompositeOperation = 'lighter'
  for (const [widen, blur, strength] of [
    [3.2, 4.6, 0.42],
    [2.2, 2.2, 0.46],
    [1.4, 0.8, 0.6],
  ] as const) {
    soft.shadowBlur = spread * blur * scale
    soft.shadowColor = `rgba(255,255,255,${strength})`
    trace(soft, outline, widen)
  }
  const [dark, thin] = surface(half * 2, scale)
  thin.translate(half, half)
  thin.strokeStyle = 'rgba(132,126,146,.42)'
  thin.lineWidth = 0.9
  edge(thin, outline)
  return { core: tinted(core), halo: tinted(halo), dark, half }
}

/** A round glow that falls off like haze in front of a lamp. */
export function hazeSprite(radius: number): Tinted {
  const [mask, context] = surface(radius * 2, 1)
  const fall = context.createRadialGradient(radius, radius, 0, radius, radius, radius)
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
  context.fillRect(0, 0, radius * 2, radius * 2)
  return tinted(mask)
}

function reachOf(outline: Outline): number {
  switch (outline.kind) {
    case 'stroke':
      return Math.hypot(outline.dx, outline.dy) / 2 + outline.width
    case 'disc':
      return outline.radius
    case 'arc':
      return outline.radius + outline.width
    case 'plate':
      return Math.hypot(outline.width, outline.height) / 2
    case 'letter':
      return outline.size * 0.75
  }
}

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
