// Bench: what a frame costs from song to levels, and what it allocates, against a loop that only copies the same bytes.

import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive, type Live } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { smallShow } from '../render/small-show.ts'
import { figure, ratio, table, within } from './figures.ts'

const BARS = 100
const BAR = 3840
/** Ticks of a frame at 120 BPM and 40 Hz. */
const STEP = 48
const WARM_UP = 400
const RUN_MS = 1000
/** Copies timed as one, as one alone is shorter than the clock can tell. */
const COPIES = 200
const ALLOCATION_RUNS = 7
const ALLOCATION_FRAMES = 200

/** Four tracks over one another on every fixture, each with a motion and a gradient, all the song long. */
const layers = [
  { merge: 'cover', kind: 'chase', along: 'part' },
  { merge: 'highest', kind: 'pulse', along: 'motion' },
  { merge: 'add', kind: 'swell', along: 'time' },
  { merge: 'mask', kind: 'scatter', along: 'part' },
]

function rigOf(fixtures: number) {
  const { rig, show, kit } = smallShow({
    fixtures,
    bars: BARS,
    tracks: layers.map(({ merge }) => ({ merge })),
    cues: Object.fromEntries(
      layers.map(({ kind, along }, i) => [
        `c${i}`,
        {
          track: `t${i}`,
          at: 0,
          length: BARS * BAR,
          level: 0.9,
          motion: { kind },
          colours: {
            along,
            stops: [
              { at: 0, colour: { hex: '#102040' } },
              { at: 1, colour: { hex: '#ffd080' } },
            ],
          },
        },
      ]),
    ),
  })
  const song = compileSong(rig, show, 'kit', 'song')
  const plan = levelPlan(rig, kit)
  const scratch = renderScratch(song)
  const light = new Float32Array(song.stage.cells * 3)
  const levels = new Uint8Array(plan.universes.length * 512)
  const live: Live = { ...freshLive(), grand: 0.9, parts: { part: 0.8 } }
  let at = 0
  const frame = (): void => {
    at = (at + STEP) % (BARS * BAR - STEP)
    renderLight(song, at, at + STEP, live, scratch, light)
    applyLimits(song, live, light)
    toLevels(plan, light, levels)
  }
  return { frame, levels, universes: plan.universes.length }
}

/** Ms of one `work`, again and again for a while; `at once` of them are timed together. */
function times(work: () => void, atOnce: number): number[] {
  const all: number[] = []
  for (const end = performance.now() + RUN_MS; performance.now() < end; ) {
    const began = performance.now()
    for (let i = 0; i < atOnce; i++) work()
    all.push((performance.now() - began) / atOnce)
  }
  return all
}

/** Growth of memory, bytes, by `count` calls after a collection: the runs in rising order. */
function growth(work: () => void, count: number): number[] {
  const runs: number[] = []
  for (let run = 0; run < ALLOCATION_RUNS; run++) {
    globalThis.gc!()
    const before = process.memoryUsage()
    for (let i = 0; i < count; i++) work()
    const after = process.memoryUsage()
    runs.push(after.heapUsed - before.heapUsed + after.arrayBuffers - before.arrayBuffers)
  }
  return runs.sort((a, b) => a - b)
}

/** Bytes of one frame: the middle run and the worst, without what the reading itself costs. */
function allocation(frame: () => void): string[] {
  const reading = within(
    growth(() => {}, ALLOCATION_FRAMES),
    0.5,
  )
  const runs = growth(frame, ALLOCATION_FRAMES)
  return [0.5, 1].map(share => ((within(runs, share) - reading) / ALLOCATION_FRAMES).toFixed(0))
}

const sizes = [16, 64, 256, 1024, 4096, 10_000]
let last: { fixtures: number; p50: number } | null = null
const rows = sizes.map(fixtures => {
  const { frame, levels, universes } = rigOf(fixtures)
  const source = Uint8Array.from(levels, (_, i) => i & 255)
  const target = new Uint8Array(levels.length)
  const copy = (): void => {
    for (let i = 0; i < source.length; i++) target[i] = source[i]!
  }
  for (let i = 0; i < WARM_UP; i++) frame()
  times(copy, COPIES)
  const copied = times(copy, COPIES)
  const rendered = times(frame, 1)
  const p50 = within(rendered, 0.5)
  // How the cost grows from one size to the next: 1 is in proportion, above it is worse.
  const power = last ? Math.log(p50 / last.p50) / Math.log(fixtures / last.fixtures) : Number.NaN
  last = { fixtures, p50 }
  return [
    `${fixtures} fixtures, ${universes} universe${universes > 1 ? 's' : ''}`,
    figure(p50),
    figure(within(rendered, 0.95)),
    figure(within(copied, 0.5)),
    ratio(p50, within(copied, 0.5)),
    figure((p50 * 1000) / fixtures),
    figure(power),
    `${figure((p50 / 25) * 100)} %`,
    ...allocation(frame),
  ]
})
console.log(`## Rendering a frame

\`renderLight\`, \`applyLimits\` and \`toLevels\`: RGB fixtures with ${layers.length} layers (${layers.map(({ kind, merge }) => `${kind} by ${merge}`).join(', ')}), a
gradient in each, masters down. Baseline: a loop that copies the bytes of the same universes, one by one. Allocation: growth
of heap and array buffers over ${ALLOCATION_FRAMES} frames after a collection, less that of ${ALLOCATION_FRAMES} calls that do nothing; ${ALLOCATION_RUNS} runs. A worst run
above the median is the compiler at work, once. Growth: the power of the number of fixtures with which the time has risen since
the row before; 1 is in proportion.

${table(['rig', 'ms a frame p50', 'p95', 'copy, ms p50', 'p50 / copy', 'µs a fixture', 'growth', 'of 25 ms', 'bytes a frame, median', 'most'], rows)}`)
