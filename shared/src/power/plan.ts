// Amps on the wire: which box every channel of a kit draws from, how much at full, and what a frame's levels draw.

import { does, type LevelPlan } from '../render/level-plan.ts'
import { patch } from '../rig/patch.ts'
import type { Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import { ampsOf, type ColourName, colourNames } from './draw.ts'

/** Plain data beside a kit's `LevelPlan`. */
export interface PowerPlan {
  /** Ids of the kit's boxes that the rig has. */
  readonly boxes: readonly string[]
  /** By fixture of the level plan: index into `boxes`, −1 for a guest, which brings its own supply. */
  readonly box: Int32Array
  /** By channel of the level plan: amps at full, at the build's volts. */
  readonly amps: Float64Array
  /** By box: the amps that an armed limit leaves; Infinity where none is armed. */
  readonly limit: Float64Array
}

/** Plans the currents of a kit; `plan` is that kit's. Currents are those without cables: the most that can flow. */
export function powerPlan(rig: Rig, kit: Kit, plan: LevelPlan): PowerPlan {
  const boxes = Object.keys(kit.boxes).filter(id => rig.boxes[id])
  // The level plan has the fixtures of the patch, in its order: two boxes may listen to the same address.
  const { entries } = patch(rig, kit)
  const fixtures = plan.gamma.length
  const box = new Int32Array(fixtures).fill(-1)
  const amps = new Float64Array(plan.slot.length)
  for (let f = 0; f < fixtures; f++) {
    const first = plan.firstChannel[f]!
    const end = plan.firstChannel[f + 1]!
    const entry = entries[f]!
    if (entry.box === undefined) continue
    box[f] = boxes.indexOf(entry.box)
    const build = rig.builds[rig.fixtures[entry.fixture]!.build]!
    const full = ampsOf(build)
    for (let c = first; c < end; c++) {
      const name: ColourName | undefined = colourNames[plan.does[c]!]
      if (name !== undefined) amps[c] = full[name] / build.cells
    }
  }
  const limit = Float64Array.from(boxes, id => kit.boxes[id]!.powerLimit ?? Number.POSITIVE_INFINITY)
  return { boxes, box, amps, limit }
}

/**
 * Amps that each box gives for a frame's levels as they are sent, averaged over the decoder's pulses. `out`: one a
 * box. Allocates nothing.
 */
export function ampsOfLevels(plan: LevelPlan, power: PowerPlan, levels: Uint8Array, out: Float64Array): void {
  out.fill(0)
  for (let f = 0; f < power.box.length; f++) {
    const box = power.box[f]!
    if (box < 0) continue
    const gamma = plan.gamma[f]!
    let dimmer = 1
    let sum = 0
    for (let c = plan.firstChannel[f]!; c < plan.firstChannel[f + 1]!; c++) {
      const slot = plan.slot[c]!
      const level =
        plan.bits[c] === 8 ? levels[slot]! / 255 : (levels[slot]! * 256 + levels[slot + 1]!) / 65535
      const share = gamma === 1 ? level : level ** gamma
      if (plan.does[c] === does.intensity) dimmer = share
      else sum += share * power.amps[c]!
    }
    out[box]! += dimmer * sum
  }
}
