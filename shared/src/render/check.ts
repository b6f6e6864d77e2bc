// The line check on the wire: single channels raised by hand, everything else dark or glowing, whatever the song does.

import { z } from 'zod'
import { address, id, share, universe } from '../show/fields.ts'
import { does, type LevelPlan } from './level-plan.ts'

const colours = z.object({
  red: share.default(0),
  green: share.default(0),
  blue: share.default(0),
  white: share.default(0),
})

/** What stands on the wire while a check is on. Shares are levels as they are sent, 0…1. */
export const checkSchema = z.object({
  /** Fixtures (and guests) raised, by id. */
  lights: z.record(id, colours).default({}),
  /** Level of every colour of all the others: 0 is dark, a little is the insertion glow. */
  others: share.default(0),
  /** Slots raised by number, last: for a fixture whose channels nobody knows. */
  slots: z
    .array(z.object({ universe, address, value: share }))
    .max(512)
    .default([]),
})
export type Check = z.infer<typeof checkSchema>

/** A check stands for so long after the page that holds it was last heard, ms; then the lights go dark. */
export const CHECK_LASTS = 2000

/**
 * Writes the levels of a check; `out`: 512 bytes for each of the plan's universes, all of them written. A dimmer is
 * full where any colour of its fixture is raised; channels that are always sent at one value keep it.
 */
export function checkLevels(plan: LevelPlan, check: Check, out: Uint8Array): void {
  out.fill(0)
  for (let f = 0; f < plan.ids.length; f++) {
    const raised = check.lights[plan.ids[f]!]
    const { others } = check
    const levels = raised
      ? [raised.red, raised.green, raised.blue, raised.white]
      : [others, others, others, others]
    const lit = levels.some(level => level > 0)
    for (let c = plan.firstChannel[f]!; c < plan.firstChannel[f + 1]!; c++) {
      const what = plan.does[c]!
      const level =
        what === does.fixed ? plan.fixed[c]! : what === does.intensity ? Number(lit) : levels[what]!
      write(out, plan.slot[c]!, plan.bits[c]!, level)
    }
  }
  for (const { universe, address, value } of check.slots) {
    const at = plan.universes.indexOf(universe)
    if (at >= 0) write(out, at * 512 + address - 1, 8, value)
  }
}

function write(out: Uint8Array, slot: number, bits: number, level: number): void {
  const value = Math.round(level * (bits === 8 ? 255 : 65535))
  if (bits === 8) out[slot] = value
  else {
    out[slot] = value >> 8
    out[slot + 1] = value & 255
  }
}
