// The live layer over a song's light: part masters, bumps, tonight's trims, grand master, blackout, fixtures to be found.

import { luminanceOf } from '../light/lightness.ts'
import { limitPower } from '../power/limit.ts'
import type { CompiledSong } from './compiled.ts'
import { freeHouse, type House, type Live } from './live.ts'
import { grandUnder } from './venue.ts'

/**
 * Applies the live state to the light of a frame, in place, in this order: masters of the parts (a fixture in several
 * parts obeys all of them), bumps (full white at their level, or the song where that is brighter), trims of the
 * fixtures tonight, the grand master under the house's master and the venue's limits, blackout, the fixtures lit to be
 * found, and last the power limits of the boxes. The house's blackout puts out the found ones too. Allocates nothing.
 *
 * Masters, bumps and trims are levels in L*: a factor f scales light by Y(f), which keeps the hue. `light` as
 * `renderLight` leaves it; it stays within 0…1.
 */
export function applyLimits(song: CompiledSong, live: Live, light: Float32Array, house = freeHouse): void {
  if (live.blackout || house.blackout) light.fill(0)
  else applyMasters(song, live, house, light)
  if (live.lit.length > 0 && !house.blackout) findFixtures(song, live, house, light)
  if (song.power) limitPower(song.power, light)
}

/** Level of a fixture that is lit to be found: bright enough in a lit room, and no blow to the eye beside it. L*. */
const FOUND = 0.6
/** Factor on the rest of the stage meanwhile. L*. */
const STEPS_BACK = 0.4

function findFixtures(song: CompiledSong, live: Live, house: House, light: Float32Array): void {
  const found = luminanceOf(Math.min(FOUND, house.grand, song.venue.highest))
  const rest = luminanceOf(STEPS_BACK)
  for (const { id, firstCell, cells } of song.stage.fixtures) {
    const from = firstCell * 3
    const to = (firstCell + cells) * 3
    if (live.lit.includes(id)) light.fill(found, from, to)
    else scaleSpan(light, from, to, rest)
  }
}

function applyMasters(song: CompiledSong, live: Live, house: House, light: Float32Array): void {
  for (const part of song.parts) {
    const master = live.parts[part.id]
    if (master !== undefined && master < 1) scaleCells(light, part.cells, luminanceOf(master))
  }
  for (const part of song.parts) {
    const bump = live.bumps[part.id]
    if (bump !== undefined) raiseCells(light, part.cells, luminanceOf(bump))
  }
  for (const fixture of song.stage.fixtures) {
    if (fixture.trim >= 1) continue
    scaleSpan(
      light,
      fixture.firstCell * 3,
      (fixture.firstCell + fixture.cells) * 3,
      luminanceOf(fixture.trim),
    )
  }
  const grand = grandUnder(live, house, song.venue)
  if (grand < 1) scaleSpan(light, 0, light.length, luminanceOf(grand))
}

function scaleCells(light: Float32Array, cells: Int32Array, factor: number): void {
  for (let i = 0; i < cells.length; i++) scaleSpan(light, cells[i]! * 3, cells[i]! * 3 + 3, factor)
}

function scaleSpan(light: Float32Array, from: number, to: number, factor: number): void {
  for (let i = from; i < to; i++) light[i]! *= factor
}

function raiseCells(light: Float32Array, cells: Int32Array, level: number): void {
  for (let i = 0; i < cells.length; i++) {
    const at = cells[i]! * 3
    for (let c = 0; c < 3; c++) light[at + c] = Math.max(light[at + c]!, level)
  }
}
