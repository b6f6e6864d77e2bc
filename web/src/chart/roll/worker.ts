// The worker that renders light rolls with the renderer the engine has, so that the page stays free.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import type { CompiledSong } from '@glowchart/shared/render/compiled.ts'
import { blankSheet, bloom, develop, inkStrand } from './ink.ts'
import { eachColumn } from './light.ts'
import type { FromRollWorker, RollShape, ToRollWorker } from './request.ts'

declare const self: DedicatedWorkerGlobalScope

let song: CompiledSong | null = null
let rate = 40

self.onmessage = async ({ data }: MessageEvent<ToRollWorker>) => {
  try {
    if (data.type === 'song') {
      song = null
      song = compileSong(data.rig, data.show, data.show.tonight, data.song)
      rate = data.show.output.rate
      return
    }
    if (!song) throw new Error('No song to draw yet')
    const picture = await createImageBitmap(drawRoll(song, data.shape))
    self.postMessage({ type: 'rolled', id: data.id, picture } satisfies FromRollWorker, [picture])
  } catch (error) {
    const id = data.type === 'roll' ? data.id : null
    self.postMessage({ type: 'failed', id, says: String(error) } satisfies FromRollWorker)
  }
}

function drawRoll(song: CompiledSong, shape: RollShape): ImageData {
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
  const image = new ImageData(sheet.width, sheet.height)
  develop(sheet, image.data)
  return image
}
