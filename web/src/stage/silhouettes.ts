// The band's things in silhouette, for scale and company: drawn by us, a rough outline each, no maker's shape.

import { acrossOf, type View } from './view.ts'

type Pen = CanvasRenderingContext2D

const box = (pen: Pen, x: number, y: number, width: number, height: number) =>
  pen.fillRect(x, y, width, height)

function oval(pen: Pen, x: number, y: number, rx: number, ry: number, turn = 0): void {
  pen.beginPath()
  pen.ellipse(x, y, rx, ry, turn, 0, 2 * Math.PI)
  pen.fill()
}

function rod(pen: Pen, width: number, ...points: readonly [number, number][]): void {
  pen.beginPath()
  pen.lineWidth = width
  for (const [x, y] of points) pen.lineTo(x, y)
  pen.stroke()
}

function drums(pen: Pen): void {
  box(pen, -1.35, 0, 2.7, 0.3)
  oval(pen, 0, 0.78, 0.42, 0.46)
  box(pen, -0.42, 0.3, 0.84, 0.3)
  for (const x of [-0.62, 0.62]) {
    oval(pen, x, 1.12, 0.23, 0.16)
    box(pen, x - 0.22, 0.96, 0.44, 0.18)
  }
  oval(pen, 0.86, 0.62, 0.26, 0.3)
  box(pen, 0.6, 0.3, 0.52, 0.3)
  rod(pen, 0.03, [-1.05, 0.3], [-1.05, 1.55])
  oval(pen, -1.05, 1.55, 0.38, 0.035, 0.18)
  rod(pen, 0.03, [1.12, 0.3], [1.16, 1.62])
  oval(pen, 1.16, 1.62, 0.4, 0.035, -0.2)
}

function amplifier(pen: Pen): void {
  box(pen, -0.4, 0, 0.8, 0.74)
  box(pen, -0.34, 0.76, 0.68, 0.25)
}

function microphone(pen: Pen): void {
  rod(pen, 0.028, [0, 0.02], [0.02, 1.55], [0.3, 1.68])
  oval(pen, 0.33, 1.69, 0.09, 0.045, 0.4)
  rod(pen, 0.03, [-0.22, 0.01], [0, 0.12], [0.22, 0.01])
}

function keyboard(pen: Pen): void {
  box(pen, -0.62, 0.84, 1.24, 0.1)
  rod(pen, 0.04, [-0.45, 0], [0.4, 0.86])
  rod(pen, 0.04, [0.45, 0], [-0.4, 0.86])
}

/** Where each stands, as a share of the stage's half width from the centre line. */
const things: readonly [number, (pen: Pen) => void][] = [
  [0, drums],
  [-0.52, amplifier],
  [0.52, amplifier],
  [-0.67, microphone],
  [-0.2, microphone],
  [0.72, keyboard],
]

export function drawSilhouettes(pen: Pen, view: View): void {
  for (const [share, draw] of things) {
    pen.save()
    pen.translate(acrossOf((share * view.stageWidth) / 2, view), view.floor)
    pen.scale(view.metre, -view.metre)
    pen.fillStyle = pen.strokeStyle = '#060509'
    pen.lineCap = 'round'
    draw(pen)
    pen.restore()
  }
}
