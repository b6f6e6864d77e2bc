// Run by itself (node --expose-gc --max-semi-space-size=128 --import tsx FILE [fixtures] [frames]): prints the bytes
// that one rendered frame allocates.

import { motionKinds } from '@glowchart/shared/light/schema.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan, toLevels } from '@glowchart/shared/render/levels.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive, type Live } from '@glowchart/shared/render/live.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { smallShow } from '../render/small-show.ts'

const FIXTURES = Number(process.argv[2] ?? 16)
const FRAMES = Number(process.argv[3] ?? 10_000)
const BAR = 3840
const colours = (along: string) => ({
  along,
  stops: [
    { at: 0, colour: { hex: '#102040' } },
    { at: 1, colour: { hex: '#ffd080' } },
  ],
})
const tracks = [{}, { merge: 'highest' }, { merge: 'add' }, { merge: 'mask' }]
// Every motion on every track, by note and by Hz, with fades, points and crossfades, over a tempo that glides.
const cues = Object.fromEntries(
  motionKinds.flatMap((kind, i) =>
    tracks.map((_, t) => [
      `c${i}-${t}`,
      {
        track: `t${t}`,
        at: i * BAR,
        length: BAR + 960,
        level:
          t % 2 === 0
            ? 0.8
            : [
                { at: 0, level: 0.3 },
                { at: BAR, level: 1 },
              ],
        fadeIn: { length: 480 },
        fadeOut: { length: 700, curve: 'soft' },
        colours: colours(['part', 'motion', 'time', 'motion'][t]!),
        motion: { kind, rate: t % 2 === 0 ? { ticks: 960 } : { hz: 3.3 }, by: t === 1 ? 'cell' : 'fixture' },
      },
    ]),
  ),
)
const { rig, show, kit } = smallShow({
  fixtures: FIXTURES,
  cells: 2,
  bars: 14,
  tempo: [{ at: 0, bpm: 150, glide: 14 * BAR }],
  tracks,
  cues,
})
const song = compileSong(rig, show, 'kit', 'song')
const plan = levelPlan(rig, kit)
const scratch = renderScratch(song)
const light = new Float32Array(song.stage.cells * 3)
const levels = new Uint8Array(plan.universes.length * 512)
const live: Live = { ...freshLive(), grand: 0.9, parts: { part: 0.7 }, bumps: { part: 0.2 } }

const render = (): void => {
  for (let n = 0; n < FRAMES; n++) {
    const from = (n % 1000) * 52.5
    renderLight(song, from, from + 48.5, live, scratch, light)
    applyLimits(song, live, light)
    toLevels(plan, light, levels)
  }
}
for (let i = 0; i < 4; i++) render()
globalThis.gc!()
const before = process.memoryUsage().heapUsed
render()
console.log((process.memoryUsage().heapUsed - before) / FRAMES)
