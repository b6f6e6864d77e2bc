// The power limit: a box that would draw too much is dimmed as a whole, so that every colour keeps its hue.

import { does, type LevelPlan } from '../render/level-plan.ts'
import { driven } from '../render/levels.ts'
import type { PowerPlan } from './plan.ts'

/** What `limitPower` needs, worked out once a kit. */
export interface PowerLimit {
  readonly plan: LevelPlan
  readonly power: PowerPlan
  /** By box: amps that light may ask for, so that what is sent stays under the limit when levels are rounded. */
  readonly allowed: Float64Array
  /** By box, written by each frame: the factor on its light. */
  readonly factor: Float64Array
}

/** Null when no box of the kit has its limit armed. */
export function powerLimit(plan: LevelPlan, power: PowerPlan): PowerLimit | null {
  if (power.limit.every(amps => amps === Number.POSITIVE_INFINITY)) return null
  const allowed = power.limit.slice()
  for (let f = 0; f < power.box.length; f++) {
    const box = power.box[f]!
    if (box < 0) continue
    // A level is at most half a step too high; on a curve of exponent γ that is at most γ halves of light. A fixture
    // with a dimmer rounds twice.
    const rounds = plan.hasIntensity[f] === 1 ? 2 : 1
    for (let c = plan.firstChannel[f]!; c < plan.firstChannel[f + 1]!; c++) {
      const step = plan.bits[c] === 8 ? 255 : 65535
      allowed[box]! -= (power.amps[c]! * rounds * plan.gamma[f]! * 0.5) / step
    }
  }
  for (let box = 0; box < allowed.length; box++) allowed[box] = Math.max(0, allowed[box]!)
  return { plan, power, allowed, factor: new Float64Array(allowed.length) }
}

/**
 * Dims, in place, the light of every box that would draw more than it may: all its cells by one factor, which keeps
 * their hue. `light`: linear, three floats a cell. Allocates nothing.
 */
export function limitPower({ plan, power, allowed, factor }: PowerLimit, light: Float32Array): void {
  factor.fill(0)
  for (let f = 0; f < power.box.length; f++) {
    const box = power.box[f]!
    if (box < 0) continue
    let sum = 0
    for (let c = plan.firstChannel[f]!; c < plan.firstChannel[f + 1]!; c++) {
      const what = plan.does[c]!
      if (what <= does.white) sum += power.amps[c]! * driven(plan, light, f, plan.cell[c]!, what)
    }
    factor[box]! += sum
  }
  for (let box = 0; box < factor.length; box++) {
    factor[box] = factor[box]! > allowed[box]! ? allowed[box]! / factor[box]! : 1
  }
  for (let f = 0; f < power.box.length; f++) {
    const box = power.box[f]!
    if (box < 0 || factor[box] === 1) continue
    const first = plan.firstCell[f]! * 3
    for (let i = first; i < first + plan.cells[f]! * 3; i++) light[i]! *= factor[box]!
  }
}
