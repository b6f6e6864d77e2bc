import { compiledSmall } from '../render/small-show.ts'
import { renderScratch } from '@glowchart/shared/render/scratch.ts'
import { renderLight } from '@glowchart/shared/render/render.ts'
import { applyLimits } from '@glowchart/shared/render/limits.ts'
import { freshLive } from '@glowchart/shared/render/live.ts'
import { motionKinds } from '@glowchart/shared/light/schema.ts'
const grad = (along: string) => ({ along, stops: [{ at: 0, colour: { hex: '#102040' } }, { at: 1, colour: { hex: '#ffd080' } }] })
const live = freshLive()
for (const kind of process.argv[2] ? [process.argv[2]] : [...motionKinds, "mix"]) {
  const kinds = kind === 'mix' ? ['chase', 'pulse', 'swell', 'scatter'] : [kind, kind, kind, kind]
  const song = compiledSmall({ fixtures: 10000, bars: 100, tracks: [{}, { merge: 'highest' }, { merge: 'add' }, { merge: 'mask' }],
    cues: Object.fromEntries(kinds.map((k, i) => [`c${i}`, { track: `t${i}`, at: 0, length: 384000, level: 0.9, motion: { kind: k }, colours: grad(['part', 'motion', 'time', 'part'][i]!) }])) })
  const scratch = renderScratch(song); const out = new Float32Array(30000)
  for (let n = 0; n < 200; n++) renderLight(song, n * 48.5, n * 48.5 + 48.5, live, scratch, out)
  const t = performance.now(); const N = 200
  for (let n = 0; n < N; n++) { renderLight(song, n * 48.5, n * 48.5 + 48.5, live, scratch, out); applyLimits(song, live, out) }
  console.log(kind, ((performance.now() - t) / N).toFixed(2), 'ms')
}
