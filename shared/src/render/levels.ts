// Light to DMX levels, and back to the light that the decoders make of them.

import { COLOURS, does, type LevelPlan, WHITE } from './level-plan.ts'

export { type LevelPlan, levelPlan } from './level-plan.ts'

/**
 * Writes the levels of a frame. `light`: linear, 0…1, three floats a cell of the stage; `out`: 512 bytes for each of
 * `plan.universes`; slots that no fixture has are left as they are. Allocates nothing.
 *
 * A cell with colours and white sends min(r, g, b) by white and the rest by the colours; one with white alone sends
 * the greatest of them. Colours are then balanced. A fixture with a dimmer sends its greatest channel there, and every
 * channel as a share of that. The response curve is undone last. Levels are rounded half up; 16-bit ones go coarse
 * byte first (common practice, no source).
 */
export function toLevels(plan: LevelPlan, light: Float32Array, out: Uint8Array): void {
  for (let f = 0; f < plan.gamma.length; f++) {
    const top = plan.hasIntensity[f] === 1 ? greatest(plan, light, f) : 1
    const share = top > 0 ? 1 / top : 0
    const exponent = 1 / plan.gamma[f]!
    for (let c = plan.firstChannel[f]!; c < plan.firstChannel[f + 1]!; c++) {
      const what = plan.does[c]!
      if (what === does.fixed) {
        write(out, plan.slot[c]!, plan.bits[c]!, plan.fixed[c]!)
        continue
      }
      const wanted = what === does.intensity ? top : driven(plan, light, f, plan.cell[c]!, what) * share
      write(out, plan.slot[c]!, plan.bits[c]!, exponent === 1 ? wanted : wanted ** exponent)
    }
  }
}

/**
 * The light of every cell that decoders and lamps make of a frame's levels, as `toLevels` wrote them: linear, 0…1,
 * white light added to the three colours, the white balance taken back (balanced white looks white).
 */
export function fromLevels(plan: LevelPlan, levels: Uint8Array, out: Float32Array): void {
  out.fill(0)
  for (let f = 0; f < plan.gamma.length; f++) {
    const gamma = plan.gamma[f]!
    const first = plan.firstChannel[f]!
    const end = plan.firstChannel[f + 1]!
    let top = 1
    for (let c = first; c < end; c++) {
      if (plan.does[c] === does.intensity) top = read(levels, plan.slot[c]!, plan.bits[c]!) ** gamma
    }
    for (let c = first; c < end; c++) {
      const what = plan.does[c]!
      if (what > does.white) continue
      const light = top * read(levels, plan.slot[c]!, plan.bits[c]!) ** gamma
      const at = plan.cell[c]! * 3
      if (what === does.white) for (let i = 0; i < 3; i++) out[at + i]! += light
      else if (plan.balance[f * 3 + what]! > 0) out[at + what]! += light / plan.balance[f * 3 + what]!
    }
    if (plan.hasIntensity[f] === 0) continue
    for (let cell = plan.firstCell[f]!; cell < plan.firstCell[f]! + plan.cells[f]!; cell++) {
      if (plan.lamps[cell] === 0) out.fill(top, cell * 3, cell * 3 + 3)
    }
  }
  for (let i = 0; i < out.length; i++) if (out[i]! > 1) out[i] = 1
}

/** Linear light that a colour's or white's channel of a cell is to give, before a dimmer has its share. */
export function driven(
  plan: LevelPlan,
  light: Float32Array,
  fixture: number,
  cell: number,
  what: number,
): number {
  const white = whiteOf(plan, light, cell)
  if (what === does.white) return white
  return (light[cell * 3 + what]! - white) * plan.balance[fixture * 3 + what]!
}

/** What the white of a cell gives: 0 where it has none. */
function whiteOf(plan: LevelPlan, light: Float32Array, cell: number): number {
  const lamps = plan.lamps[cell]!
  if ((lamps & WHITE) === 0) return 0
  const r = light[cell * 3]!
  const g = light[cell * 3 + 1]!
  const b = light[cell * 3 + 2]!
  return (lamps & COLOURS) === 0 ? Math.max(r, g, b) : Math.min(r, g, b)
}

/** The greatest that any channel of a fixture is to give: what its dimmer is set to. */
function greatest(plan: LevelPlan, light: Float32Array, fixture: number): number {
  let most = 0
  const first = plan.firstCell[fixture]!
  for (let cell = first; cell < first + plan.cells[fixture]!; cell++) {
    // A cell that has only the dimmer gives the greatest of its colours.
    const bare = plan.lamps[cell] === 0
    if (!bare) most = Math.max(most, whiteOf(plan, light, cell))
    for (let c = 0; c < 3; c++) {
      most = Math.max(most, bare ? light[cell * 3 + c]! : driven(plan, light, fixture, cell, c))
    }
  }
  return most
}

function write(out: Uint8Array, slot: number, bits: number, level: number): void {
  const share = Math.min(1, level)
  if (bits === 8) {
    out[slot] = Math.floor(share * 255 + 0.5)
    return
  }
  const fine = Math.floor(share * 65535 + 0.5)
  out[slot] = fine >> 8
  out[slot + 1] = fine & 255
}

function read(levels: Uint8Array, slot: number, bits: number): number {
  return bits === 8 ? levels[slot]! / 255 : (levels[slot]! * 256 + levels[slot + 1]!) / 65535
}
