// Bench: drawing the light roll of a song of four minutes, against copying its pixels.

import { ticksAt } from '@glowchart/shared/time/tempo.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'
import { seconds } from '@glowchart/shared/time/units.ts'
import { createEasel } from '@glowchart/web/chart/roll/easel.ts'
import type { RollShape } from '@glowchart/web/chart/roll/request.ts'
import { LONG, longShow } from '../support/long-show.ts'
import { figure, ratio, table, within } from './figures.ts'

const BAR = 3840
/** At 120 BPM in 4/4: four minutes. */
const BARS = 120
const BARS_A_LINE = 8
const TURNS = 3
/** As on a page 1440 px wide: px a bar, px a strand on an open line and on a folded one. */
const BAR_WIDTH = 140
const STRAND = { open: 9, folded: 2 }

function shapes(fixtures: number, strand: number, bloom: number): RollShape[] {
  const rows = [0, 1, 2, 3].map(part => ({
    y: (part * fixtures * strand) / 4,
    height: (fixtures * strand) / 4,
    strands: Array.from({ length: fixtures / 4 }, (_, i) => ({ firstCell: part + 4 * i, cells: 1 })),
  }))
  return Array.from({ length: BARS / BARS_A_LINE }, (_, line) => ({
    edges: Array.from({ length: BARS_A_LINE + 1 }, (_, bar) => (line * BARS_A_LINE + bar) * BAR),
    barWidth: BAR_WIDTH,
    rows,
    height: fixtures * strand,
    pad: 10,
    bloom,
    scale: 1,
  }))
}

function measure(name: string, fixtures: number, strand: number, bloom: number): string[] {
  const documents = longShow({ sections: BARS / 4, cues: 600, fixtures })
  const { tempo } = timelineOf(documents.show.songs[LONG.song]!)
  if (ticksAt(tempo, seconds(240)) !== BARS * BAR) throw new Error('The song does not last four minutes')
  const lines = shapes(fixtures, strand, bloom)
  const whole: number[] = []
  const copies: number[] = []
  let pixels = 0
  for (let turn = 0; turn < TURNS; turn++) {
    // A fresh one has nothing that it could bring up to date.
    const easel = createEasel()
    easel.take({ type: 'load', ...documents, song: LONG.song })
    const pictures: Uint8ClampedArray[] = []
    const began = performance.now()
    for (const [i, shape] of lines.entries()) {
      const { drawn } = easel.draw({
        type: 'draw',
        wanted: [{ shape, place: String(i), has: [] }],
        inSight: false,
      })
      pictures.push(drawn!.pixels.data)
    }
    whole.push(performance.now() - began)
    const targets = pictures.map(picture => new Uint8ClampedArray(picture.length))
    const copied = performance.now()
    for (const [i, picture] of pictures.entries()) {
      const target = targets[i]!
      for (let at = 0; at < picture.length; at++) target[at] = picture[at]!
    }
    copies.push(performance.now() - copied)
    pixels = pictures.reduce((sum, picture) => sum + picture.length / 4, 0)
  }
  const [p50, copy] = [within(whole, 0.5), within(copies, 0.5)]
  return [
    name,
    figure(pixels / 1e6),
    figure(p50),
    figure(copy),
    ratio(p50, copy),
    figure(p50 / lines.length),
    `${figure(240_000 / p50)} ×`,
  ]
}

const rows = [
  measure('16 fixtures, every line open', 16, STRAND.open, 5),
  measure('16 fixtures, folded', 16, STRAND.folded, 3),
  measure('200 fixtures, folded', 200, STRAND.folded, 3),
]
console.log(`## The light roll of a song

A song of four minutes (${BARS} bars, 600 cues), drawn whole from nothing by what the page's worker draws with: ${BARS / BARS_A_LINE} lines of
${BARS_A_LINE} bars, 40 frames rendered for each second of it; middle of ${TURNS}. The page shows the lines in sight first and draws the others
while nothing else is to do. Baseline: a loop that copies the bytes of the same pixels, one by one.

${table(['', 'Mpx', 'ms, whole', 'copy, ms', 'whole / copy', 'ms a line', 'faster than it plays'], rows)}`)
