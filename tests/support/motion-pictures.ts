// Draws docs/motions/*.png and docs/motions.md: every motion over sixteen fixtures and four bars, by the real renderer.
//
// Run: node --import tsx tests/support/motion-pictures.ts

import { mkdirSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { motionKinds } from '@glowchart/shared/light/schema.ts'
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
    for (let y = 0; y < png.height; y++) dot(x, y, [64, 62, 60])
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

const INTRO = `# The twelve motions

A motion says how a cue's light moves over its part in time. Each is a value m of 0…1 for every element (a fixture, or a
cell) and every moment; the light is that of level × fades × m on the L* scale, where m is first raised by the floor:
floor + (1 − floor) · m. Colours along the motion read the raw m: 0 its valley, 1 its crest.

In the formulas x is the element's place in the part's order, 0…1, after the direction: forward x, backward 1 − x, outward
|2x − 1|, inward 1 − |2x − 1|. P is the phase in cycles since the cue's origin, by note value or by Hz through the song's
tempo map; S is the spread, D the duty, and frac the fractional part. Position alone decides: the same place in the song
gives the same light, however one came to be there.

A frame stands for its whole interval, so that a window or a hit that passes between two frames is still seen in one. Of
a cycle no longer than a frame the mean light is shown (of a strobe already below two frames); sway, filament and drift
are read where the frame begins.

In the pictures time runs to the right over four bars of 4/4 at 120 BPM in frames of 1/40 s, and the sixteen fixtures of a
part lie below each other. They are drawn by \`tests/support/motion-pictures.ts\` with the renderer that drives the lights.
`

function page({ title, says, formula, motion }: MotionPage): string {
  const { kind, rate, ...rest } = motion
  const beats = rate ? rate.ticks / 960 : 0
  const cycle = rate
    ? [`${beats < 1 ? 'half a beat' : beats === 1 ? 'one beat' : `${beats} beats`} a cycle`]
    : []
  const settings = [...cycle, ...Object.entries(rest).map(([setting, value]) => `${setting} ${value}`)]
  return `
## ${title}

${says}

![${title} over sixteen fixtures and four bars](motions/${kind}.png)

${settings.length > 0 ? `In the picture: ${settings.join(', ')}.\n\n` : ''}> ${formula}
`
}

const docs = fileURLToPath(new URL('../../docs/', import.meta.url))
mkdirSync(`${docs}motions`, { recursive: true })
for (const kind of motionKinds) {
  const drawn = motionPages.find(p => p.motion.kind === kind)
  if (!drawn) throw new Error(`${kind} has no page in motion-pages.ts`)
  writeFileSync(`${docs}motions/${kind}.png`, picture(drawn))
}
writeFileSync(`${docs}motions.md`, INTRO + motionPages.map(page).join(''))
