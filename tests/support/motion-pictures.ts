// Draws docs/motions/*.png and docs/motions.md: every motion over sixteen fixtures and four bars, by the real renderer.
//
// Run: node --import tsx tests/support/motion-pictures.ts

import { mkdirSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { encodeSrgb } from '@glowchart/shared/light/srgb.ts'
import { frameSpan } from '@glowchart/shared/render/frames.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { PNG } from 'pngjs'
import { compiledSmall } from '../render/small-show.ts'
import { type MotionPage, motionPages } from './motion-pages.ts'

const FIXTURES = 16
const BARS = 4
const BPM = 120
const RATE = 40
const FRAMES = (BARS * 4 * 60 * RATE) / BPM
/** Pixels of a frame across, of a fixture down with its gap, of the gap, and around. */
const ACROSS = 3
const DOWN = 14
const GAP = 3
const MARGIN = 12

function picture({ motion, colours }: MotionPage): Buffer {
  const song = compiledSmall({
    fixtures: FIXTURES,
    bars: BARS,
    bpm: BPM,
    cues: { cue: { at: 0, length: BARS * 3840, motion, colours } },
  })
  const scratch = renderScratch(song)
  const light = new Float32Array(FIXTURES * 3)
  const png = new PNG({ width: 2 * MARGIN + FRAMES * ACROSS, height: 2 * MARGIN + FIXTURES * DOWN - GAP })
  const dot = (x: number, y: number, colour: readonly number[]) => {
    const at = (y * png.width + x) * 4
    for (let c = 0; c < 3; c++) png.data[at + c] = colour[c]!
    png.data[at + 3] = 255
  }
  for (let y = 0; y < png.height; y++) for (let x = 0; x < png.width; x++) dot(x, y, [11, 11, 13])
  for (let bar = 0; bar <= BARS; bar++) {
    const x = MARGIN + Math.min(FRAMES * ACROSS - 1, (bar * FRAMES * ACROSS) / BARS)
    for (let y = 3; y < png.height - 3; y++) dot(x, y, [58, 56, 54])
  }
  for (let n = 0; n < FRAMES; n++) {
    const { from, to } = frameSpan(song, n, RATE)
    renderLight(song, from, to, freshLive(), scratch, light)
    for (let f = 0; f < FIXTURES; f++) {
      const colour = [0, 1, 2].map(c => Math.max(18, Math.round(255 * encodeSrgb(light[f * 3 + c]!))))
      for (let y = 0; y < DOWN - GAP; y++) {
        for (let x = 0; x < ACROSS; x++) dot(MARGIN + n * ACROSS + x, MARGIN + f * DOWN + y, colour)
      }
    }
  }
  return PNG.sync.write(png)
}

const docs = fileURLToPath(new URL('../../docs/', import.meta.url))
mkdirSync(`${docs}motions`, { recursive: true })
const pages = motionPages.map(page => {
  writeFileSync(`${docs}motions/${page.motion.kind}.png`, picture(page))
  return `## ${page.title}

${page.says}

![${page.title} over sixteen fixtures and four bars](motions/${page.motion.kind}.png)

${page.settings}

${page.formula}
`
})
writeFileSync(`${docs}motions.md`, `${motionPages.length === 12 ? '' : 'INCOMPLETE'}${pages.join('\n')}`)
