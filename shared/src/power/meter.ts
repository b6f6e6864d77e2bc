// A meter of amps: fed a song frame by frame, it keeps the greatest of every box by bar.

import { type LevelPlan, levelPlan, toLevels } from '../render/levels.ts'
import type { Rig } from '../rig/schema.ts'
import type { Kit } from '../show/schema.ts'
import { barBeatAt } from '../time/meter.ts'
import type { Timeline } from '../time/timeline.ts'
import type { Ticks } from '../time/units.ts'
import { ampsOfLevels, type PowerPlan, powerPlan } from './plan.ts'

/** The currents of one box over a song. */
export interface BoxPeak {
  readonly box: string
  /** The greatest, A, and the 0-based bar of the song in which it is first reached. */
  readonly amps: number
  readonly bar: number
  /** The greatest of every bar, A. */
  readonly bars: Float32Array
}

export class PowerMeter {
  readonly #plan: LevelPlan
  readonly #power: PowerPlan
  readonly #timeline: Timeline
  readonly #levels: Uint8Array
  readonly #amps: Float64Array
  readonly #bars: readonly Float32Array[]

  constructor(rig: Rig, kit: Kit, timeline: Timeline) {
    this.#plan = levelPlan(rig, kit)
    this.#power = powerPlan(rig, kit, this.#plan)
    this.#timeline = timeline
    this.#levels = new Uint8Array(512 * this.#plan.universes.length)
    this.#amps = new Float64Array(this.#power.boxes.length)
    const count = timeline.sections.reduce((sum, section) => sum + section.bars, 0)
    this.#bars = this.#power.boxes.map(() => new Float32Array(count))
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
    }
  }

  peaks(): BoxPeak[] {
    return this.#power.boxes.map((box, b) => {
      const bars = this.#bars[b]!
      const amps = bars.reduce((most, value) => Math.max(most, value), 0)
      return { box, amps, bar: Math.max(0, bars.indexOf(amps)), bars }
    })
  }
}
