// Draws the light roll of one line for paper: level is the thickness of the ink, so that a grey printer tells it all.

import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import type { Pixels } from '../../chart/roll/draw.ts'
import { eachColumn } from '../../chart/roll/light.ts'
import type { RollShape } from '../../chart/roll/request.ts'

/** Linear light under this is dark: below the first step of 8 bits. */
const DARK = 0.0015
/** The thinnest ink, device px: what a printer still shows. */
const THIN = 0.7
/** Luma of all ink: 4.5 and more to 1 on white. */
const GREY = 0.4
/** Between linear light (1) and how a screen encodes it (0.45): ink wants more of its hue than a screen. */
const SATURATED = 0.65

/** @param rate frames a second */
export function drawInk(song: CompiledSong, rate: number, shape: RollShape): Pixels {
  const width = Math.round((shape.edges.length - 1) * shape.barWidth * shape.scale)
  const height = Math.round(shape.height * shape.scale)
  const data = new Uint8ClampedArray(width * height * 4)
  const ink = new Uint8Array(3)
  eachColumn(song, shape.edges, width, rate, (column, light) => {
    for (const row of shape.rows) {
      const pitch = (row.height * shape.scale) / row.strands.length
      let top = row.y * shape.scale
      for (const strand of row.strands) {
        let [r, g, b] = [0, 0, 0]
        for (let c = 3 * strand.firstCell; c < 3 * (strand.firstCell + strand.cells); c += 3) {
          r += light[c]! / strand.cells
          g += light[c + 1]! / strand.cells
          b += light[c + 2]! / strand.cells
        }
        const level = Math.min(1, Math.max(r, g, b))
        if (level >= DARK) {
          inkOf(r, g, b, ink)
          stroke(data, width, height, column, top + pitch / 2, thicknessOf(level, pitch), ink)
        }
        top += pitch
      }
    }
  })
  return { width, height, data }
}

/** Of a strand that has `pitch` px, at a linear level 0…1: near to how bright it is seen (a power of about 0.45). */
export const thicknessOf = (level: number, pitch: number): number =>
  Math.max(THIN, (pitch - 0.6) * level ** 0.45)

/**
 * The ink for a light: its hue kept, dark enough to be read on white. Its grey is the same whatever the hue, so that
 * grey says nothing that thickness does not.
 */
export function inkOf(r: number, g: number, b: number, ink: Uint8Array): void {
  const most = Math.max(r, g, b)
  const hue = [(r / most) ** SATURATED, (g / most) ** SATURATED, (b / most) ** SATURATED] as const
  // Weights of ITU-R BT.709 luma.
  const luma = 0.2126 * hue[0] + 0.7152 * hue[1] + 0.0722 * hue[2]
  for (let i = 0; i < 3; i++) {
    const value =
      luma > GREY ? (hue[i]! * GREY) / luma : hue[i]! + (1 - hue[i]!) * ((GREY - luma) / (1 - luma))
    ink[i] = Math.round(255 * Math.min(1, value))
  }
}

function stroke(
  data: Uint8ClampedArray,
  width: number,
  height: number,
  x: number,
  middle: number,
  thick: number,
  ink: Uint8Array,
): void {
  const from = middle - thick / 2
  const to = middle + thick / 2
  for (let y = Math.max(0, Math.floor(from)); y < Math.min(height, to); y++) {
    const cover = Math.min(y + 1, to) - Math.max(y, from)
    const at = (y * width + x) * 4
    const before = data[at + 3]! / 255
    const alpha = Math.min(1, before + cover)
    for (let i = 0; i < 3; i++) {
      data[at + i] = (data[at + i]! * before + ink[i]! * cover) / (before + cover)
    }
    data[at + 3] = alpha * 255
  }
}
