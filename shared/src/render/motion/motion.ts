// The twelve motions, chosen by name.

import type { TempoMap } from '../../time/tempo.ts'
import type { CompiledCue } from '../compiled.ts'
import type { Now } from '../now.ts'
import { answer } from './answer.ts'
import { cascade } from './cascade.ts'
import { chase } from './chase.ts'
import { drift } from './drift.ts'
import { filament } from './filament.ts'
import type { Layout } from './layout.ts'
import { pulse } from './pulse.ts'
import { ring } from './ring.ts'
import { scatter } from './scatter.ts'
import { strobe } from './strobe.ts'
import { sustain } from './sustain.ts'
import { sway } from './sway.ts'
import { swell } from './swell.ts'

/** Writes m (0…1) of every element of the layout to `out`. */
export function move(out: Float64Array, layout: Layout, cue: CompiledCue, now: Now, tempo: TempoMap): void {
  switch (cue.kind) {
    case 'sustain':
      return sustain(out, layout)
    case 'strobe':
      return strobe(out, layout, cue, now, tempo)
    case 'swell':
      return swell(out, layout, cue, now)
    case 'chase':
      return chase(out, layout, cue, now)
    case 'sway':
      return sway(out, layout, cue, now)
    case 'answer':
      return answer(out, layout, cue, now)
    case 'scatter':
      return scatter(out, layout, cue, now)
    case 'pulse':
      return pulse(out, layout, cue, now)
    case 'filament':
      return filament(out, layout, cue, now)
    case 'cascade':
      return cascade(out, layout, cue, now)
    case 'ring':
      return ring(out, layout, cue, now)
    case 'drift':
      return drift(out, layout, cue, now)
  }
}
