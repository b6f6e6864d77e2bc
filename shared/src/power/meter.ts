// A meter of amps: fed a song frame by frame, it keeps the greatest of every box by bar.

import { type LevelPlan, levelPlan, toLevels } from '../render/levels.ts'
import type { Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import { barBeatAt } from '../time/meter.ts'
import type { Timeline } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'
import type { PowerLimit } from './limit.ts'
import { ampsOfLevels, type PowerPlan, powerPlan } from './plan.ts'

/** The currents of one box over a song. */
export interface BoxPeak {
  readonly box: string
  /** The greatest, A, and the 0-based bar of the song in which it is first reached. */
  readonly amps: number
  readonly bar: number
  /** The greatest of every bar, A. */
  readonly bars: Float32Array
  /** Where its armed limit dims it most: the factor on its light, and the bar; null where it never does. */
  readonly dimmed: { readonly factor: number; readonly bar: number } | null
}

export class PowerMeter {
  readonly #plan: LevelPlan
  readonly #power: PowerPlan
  readonly #timeline: Timeline
  readonly #levels: Uint8Array
  readonly #amps: Float64Array
  readonly #bars: readonly Float32Array[]

  readonly #limit: PowerLimit | null
  readonly #dimmed: ({ factor: number; bar: number } | null)[]

  /** `limit`: the one that has dimmed the light that is fed, as the song's compilation holds it. */
  constructor(rig: Rig, kit: Kit, timeline: Timeline, limit: PowerLimit | null) {
    this.#limit = limit
    this.#plan = levelPlan(rig, kit)
    this.#power = powerPlan(rig, kit, this.#plan)
    this.#timeline = timeline
    this.#levels = new Uint8Array(512 * this.#plan.universes.length)
    this.#amps = new Float64Array(this.#power.boxes.length)
    const count = timeline.sections.reduce((sum, section) => sum + section.bars, 0)
    this.#bars = this.#power.boxes.map(() => new Float32Array(count))
    this.#dimmed = this.#power.boxes.map(() => null)
  }

  /** One frame: the light of all cells behind the limits, linear, as it is sent at `at`. */
  feed(light: Float32Array, at: Ticks): void {
    toLevels(this.#plan, light, this.#levels)
    ampsOfLevels(this.#plan, this.#power, this.#levels, this.#amps)
    const last = (this.#bars[0]?.length ?? 0) - 1
    const bar = Math.max(0, Math.min(last, barBeatAt(this.#timeline.meters, at).bar))
    for (let b = 0; b < this.#amps.length; b++) {
      const bars = this.#bars[b]!
      if (this.#amps[b]! > bars[bar]!) bars[bar] = this.#amps[b]!
      const factor = this.#limit?.factor[b] ?? 1
      if (factor < (this.#dimmed[b]?.factor ?? 1)) this.#dimmed[b] = { factor, bar }
    }
  }

  peaks(): BoxPeak[] {
    return this.#power.boxes.map((box, b) => {
      const bars = this.#bars[b]!
      const amps = bars.reduce((most, value) => Math.max(most, value), 0)
      return { box, amps, bar: Math.max(0, bars.indexOf(amps)), bars, dimmed: this.#dimmed[b]! }
    })
  }
}
