// Draws the light roll of one line: its light column by column, inked, with its bloom, as pixels. A drawing that is kept is
// brought up to date where its light has changed, as an edit mostly touches a few beats of a line.

import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { blankSheet, bloom, bloomReach, clearColumn, cutOut, develop, inkStrand, type Sheet } from './ink.ts'
import { eachColumn } from './light.ts'
import type { RollShape } from './request.ts'

/** Non-premultiplied RGBA, 4 bytes a device px, row after row. */
export interface Pixels {
  readonly width: number
  readonly height: number
  readonly data: Uint8ClampedArray<ArrayBuffer>
}

export interface Drawing extends Pixels {
  /** Its light as inked, without the bloom. */
  readonly sheet: Sheet
  /** Linear light of each column's strands, 3 floats a strand. */
  readonly light: Float32Array
}

export function blankDrawing({ edges, barWidth, rows, height, pad, scale }: RollShape): Drawing {
  const margin = Math.round(pad * scale)
  const columns = Math.round((edges.length - 1) * barWidth * scale)
  const strands = rows.reduce((sum, row) => sum + row.strands.length, 0)
  const sheet = blankSheet(columns + 2 * margin, Math.round(height * scale) + 2 * margin)
  const data = new Uint8ClampedArray(sheet.width * sheet.height * 4)
  const light = new Float32Array(columns * strands * 3)
  return { width: sheet.width, height: sheet.height, data, sheet, light }
}

/**
 * Brings a drawing of this shape up to the light of a song, wherever in it the line lies.
 * @param rate frames a second
 */
export function drawRoll(drawing: Drawing, song: CompiledSong, rate: number, shape: RollShape): void {
  const { sheet } = drawing
  const { scale } = shape
  const margin = Math.round(shape.pad * scale)
  const columns = sheet.width - 2 * margin
  /** Floats of light a column. */
  const run = drawing.light.length / columns
  let first = columns
  let end = 0
  eachColumn(song, shape.edges, columns, rate, (column, light) => {
    if (!takeLight(drawing.light, column * run, shape, light)) return
    inkColumn(drawing, column * run, shape, margin + column)
    first = Math.min(first, column)
    end = column + 1
  })
  if (end === 0) return
  const reach = bloomReach(shape.bloom * scale)
  const from = Math.max(0, margin + first - reach)
  const to = Math.min(sheet.width, margin + end + reach)
  // What lights the px at its edges lies as far beyond them.
  const cut = cutOut(sheet, from - reach, to + reach, shape.bloom * scale)
  bloom(cut.sheet, shape.bloom * scale, 0.26)
  develop(cut.sheet, cut.from, drawing, from, to)
}

/** Takes a column's light, strand by strand, to `first` on; false when it is what it was. */
function takeLight(light: Float32Array, first: number, { rows }: RollShape, cells: Float32Array): boolean {
  let at = first
  let changed = false
  for (const { strands } of rows) {
    for (const strand of strands) {
      for (let channel = 0; channel < 3; channel++, at++) {
        let sum = 0
        for (let i = 0; i < strand.cells; i++) sum += cells[3 * (strand.firstCell + i) + channel]!
        const before = light[at]!
        light[at] = sum / strand.cells
        if (light[at] !== before) changed = true
      }
    }
  }
  return changed
}

function inkColumn({ sheet, light }: Drawing, first: number, shape: RollShape, x: number): void {
  const { rows, scale } = shape
  clearColumn(sheet, x)
  let at = first
  for (const row of rows) {
    const pitch = (row.height * scale) / row.strands.length
    let top = Math.round(shape.pad * scale) + row.y * scale
    for (let i = 0; i < row.strands.length; i++, at += 3) {
      inkStrand(sheet, x, top, pitch, light[at]!, light[at + 1]!, light[at + 2]!)
      top += pitch
    }
  }
}
