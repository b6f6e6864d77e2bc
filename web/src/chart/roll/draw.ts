// Draws the light roll of one line: its light column by column, inked, with its bloom, as pixels.

import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { blankSheet, bloom, develop, inkStrand } from './ink.ts'
import { eachColumn } from './light.ts'
import type { RollShape } from './request.ts'

/** Non-premultiplied RGBA, 4 bytes a device px, row after row. */
export interface Pixels {
  readonly width: number
  readonly height: number
  readonly data: Uint8ClampedArray<ArrayBuffer>
}

/** @param rate frames a second */
export function drawRoll(song: CompiledSong, rate: number, shape: RollShape): Pixels {
  const { scale, pad } = shape
  const columns = Math.round((shape.edges.length - 1) * shape.barWidth * scale)
  const margin = Math.round(pad * scale)
  const sheet = blankSheet(columns + 2 * margin, Math.round(shape.height * scale) + 2 * margin)
  eachColumn(song, shape.edges, columns, rate, (column, light) => {
    for (const row of shape.rows) {
      const pitch = (row.height * scale) / row.strands.length
      let top = margin + row.y * scale
      for (const strand of row.strands) {
        let r = 0
        let g = 0
        let b = 0
        for (let c = 3 * strand.firstCell; c < 3 * (strand.firstCell + strand.cells); c += 3) {
          r += light[c]!
          g += light[c + 1]!
          b += light[c + 2]!
        }
        inkStrand(sheet, margin + column, top, pitch, r / strand.cells, g / strand.cells, b / strand.cells)
        top += pitch
      }
    }
  })
  bloom(sheet, shape.bloom * scale, 0.26)
  const data = new Uint8ClampedArray(sheet.width * sheet.height * 4)
  develop(sheet, data)
  return { width: sheet.width, height: sheet.height, data }
}
