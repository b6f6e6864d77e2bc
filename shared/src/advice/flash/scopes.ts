// What is measured for flashes: the whole stage, every part, every fixture; and how their light is mixed from the cells'.

import { fullAmps } from '../../power/draw.ts'
import type { Rig } from '../../rig/schema.ts'
import type { Stage } from '../../rig/stage.ts'

/** One measured light: the mean of some fixtures of the stage. */
export interface Scope {
  readonly of: 'stage' | 'part' | 'fixture'
  /** Indices into the stage's fixtures. */
  readonly fixtures: readonly number[]
  /** The part; more than one where parts share the same fixtures (a stand-in); the parts it is in, for a fixture. */
  readonly parts: readonly string[]
}

/** The scopes of a stage, those of more fixtures first: the whole stage, parts with light, fixtures. None of a bare one. */
export function scopesOf(stage: Stage): Scope[] {
  const all = stage.fixtures.map((_, i) => i)
  if (all.length === 0) return []
  const parts = new Map<string, { of: 'part'; fixtures: number[]; parts: string[] }>()
  for (const [id, part] of Object.entries(stage.parts)) {
    const fixtures = [...new Set(part.fixtures)].sort((a, b) => a - b)
    if (fixtures.length === 0) continue
    const same = parts.get(fixtures.join())
    if (same) same.parts.push(id)
    else parts.set(fixtures.join(), { of: 'part', fixtures, parts: [id] })
  }
  const partsWith = (i: number) =>
    Object.keys(stage.parts).filter(id => stage.parts[id]!.fixtures.includes(i))
  return [
    { of: 'stage', fixtures: all, parts: [] },
    ...[...parts.values()].sort((a, b) => b.fixtures.length - a.fixtures.length),
    ...all.map((i): Scope => ({ of: 'fixture', fixtures: [i], parts: partsWith(i) })),
  ]
}

/**
 * How much light each fixture of the stage gives at full white, for the means: in proportion to the current its build
 * takes at full, where every build on the stage has one; else all alike. An estimate: lumens are not known.
 */
export function fluxOf(rig: Rig, stage: Stage): number[] {
  const amps = stage.fixtures.map(({ build }) => fullAmps(rig.builds[build]!))
  return amps.every(a => a > 0) ? amps : amps.map(() => 1)
}

/** Mixes the light of cells into that of scopes. */
export class ScopeMixer {
  readonly #stage: Stage
  readonly #scopes: readonly Scope[]
  readonly #flux: readonly number[]
  readonly #fixtures: Float32Array

  constructor(stage: Stage, scopes: readonly Scope[], flux: readonly number[]) {
    this.#stage = stage
    this.#scopes = scopes
    this.#flux = flux
    this.#fixtures = new Float32Array(3 * stage.fixtures.length)
  }

  /**
   * @param cells linear red, green and blue (0…1) of every cell of the stage
   * @param out the flux-weighted mean of every scope, in the same form
   */
  mix(cells: Float32Array, out: Float32Array): void {
    const { fixtures } = this.#stage
    for (let f = 0; f < fixtures.length; f++) {
      const { firstCell, cells: count } = fixtures[f]!
      for (let c = 0; c < 3; c++) {
        let sum = 0
        for (let i = firstCell; i < firstCell + count; i++) sum += cells[3 * i + c]!
        this.#fixtures[3 * f + c] = sum / count
      }
    }
    for (let s = 0; s < this.#scopes.length; s++) {
      let r = 0
      let g = 0
      let b = 0
      let flux = 0
      for (const f of this.#scopes[s]!.fixtures) {
        const weight = this.#flux[f]!
        r += weight * this.#fixtures[3 * f]!
        g += weight * this.#fixtures[3 * f + 1]!
        b += weight * this.#fixtures[3 * f + 2]!
        flux += weight
      }
      out[3 * s] = r / flux
      out[3 * s + 1] = g / flux
      out[3 * s + 2] = b / flux
    }
  }
}
