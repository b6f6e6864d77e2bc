// Bench: reading whole songs for advice, against rendering alone of the same frames.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { songAdvice } from '@glowchart/shared/advice/advise.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { frameFrom, frameSpan } from '@glowchart/shared/render/frames.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { figure, ratio, table, within } from './figures.ts'

/** By turns, the first of them to warm up. */
const TURNS = 6

const { rig, show } = demoBundle()
const { rate } = show.output

/** Compiles the song and renders every frame of it. Returns how many there are. */
function render(song: string): number {
  const compiled = compileSong(rig, show, show.tonight, song)
  const scratch = renderScratch(compiled)
  const light = new Float32Array(3 * compiled.stage.cells)
  const live = freshLive()
  const frames = frameFrom(compiled, compiled.timeline.length, rate)
  for (let n = 0; n < frames; n++) {
    const { from, to } = frameSpan(compiled, n, rate)
    renderLight(compiled, from, to, live, scratch, light)
    applyLimits(compiled, live, light)
  }
  return frames
}

function read(song: string): void {
  const steps = songAdvice(rig, show, show.tonight, song)
  while (!steps.next().done);
}

function ms(work: () => unknown): number {
  const began = performance.now()
  work()
  return performance.now() - began
}

const sums = { advice: 0, rendering: 0, minutes: 0 }
const row = (name: string, advice: number, rendering: number, minutes: number): string[] => [
  name,
  figure(minutes),
  figure(advice),
  figure(advice / minutes),
  figure(rendering / minutes),
  ratio(advice, rendering),
]
const rows = show.songOrder.map(song => {
  const advice: number[] = []
  const rendering: number[] = []
  const minutes = render(song) / rate / 60
  for (let turn = 0; turn < TURNS; turn++) {
    rendering.push(ms(() => render(song)))
    advice.push(ms(() => read(song)))
  }
  const [a, r] = [within(advice.slice(1), 0.5), within(rendering.slice(1), 0.5)]
  sums.advice += a
  sums.rendering += r
  sums.minutes += minutes
  return row(show.songs[song]!.title, a, r, minutes)
})
rows.push(row('the whole set', sums.advice, sums.rendering, sums.minutes))
console.log(`## Advice on whole songs

Every song of the demo read for flashes and currents, frame by frame at ${rate} frames a second, as the page's worker does it after
an edit (of the song that was edited) and before a version is published: middle of ${TURNS - 1}. Baseline: the same frames compiled and
rendered, and nothing else.

${table(['song', 'minutes', 'advice, ms', 'ms a minute of song', 'rendering, ms a minute', 'advice / rendering'], rows)}`)
