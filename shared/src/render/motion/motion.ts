// The twelve motions, chosen by name.

import type { TempoMap } from '../../time/tempo.ts'
import type { CompiledCue, Frame } from '../compiled.ts'
import { answer } from './answer.ts'
import { cascade } from './cascade.ts'
import { chase } from './chase.ts'
import { drift } from './drift.ts'
import { filament } from './filament.ts'
import { pulse } from './pulse.ts'
import { ring } from './ring.ts'
import { scatter } from './scatter.ts'
import { strobe } from './strobe.ts'
import { sustain } from './sustain.ts'
import { sway } from './sway.ts'
import { swell } from './swell.ts'
import type { Layout, Wave } from './wave.ts'

/** For `ring`: outward for the directions forward and outward, inward for the other two. */
const RING = [2, 3, 2, 3] as const

/** Writes m (0…1) of every element of the layout to `out`. */
export function move(
  out: Float64Array,
  layout: Layout,
  wave: Wave,
  cue: CompiledCue,
  frame: Frame,
  tempo: TempoMap,
): void {
  const x = layout.x[cue.direction]
  switch (cue.kind) {
    case 'sustain':
      return sustain(out, layout.count)
    case 'swell':
      return swell(out, layout, x, wave)
    case 'chase':
      return chase(out, layout, x, wave)
    case 'sway':
      return sway(out, layout, x, wave)
    case 'answer':
      return answer(out, layout, x, wave)
    case 'scatter':
      return scatter(out, layout, wave)
    case 'pulse':
      return pulse(out, layout, x, wave)
    case 'strobe':
      return strobe(out, layout, x, cue, frame, tempo)
    case 'filament':
      return filament(out, layout, wave)
    case 'cascade':
      return cascade(out, layout, x, wave)
    case 'ring':
      return ring(out, layout, layout.x[RING[cue.direction]], wave)
    case 'drift':
      return drift(out, layout, x, wave)
  }
}
