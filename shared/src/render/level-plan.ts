// The way from light to DMX levels, worked out once for a kit: what drives every slot of every fixture.

import { patch } from '../rig/patch.ts'
import type { Channel, Rig } from '../rig/schema.ts'
import { type StageFixture, stageOf } from '../rig/stage.ts'
import type { Kit } from '../show/schema.ts'

/** What a channel carries: the colours by their place in a cell's light. */
export const does = { red: 0, green: 1, blue: 2, white: 3, intensity: 4, fixed: 5 } as const

/** What lamps a cell has, as bits. */
export const COLOURS = 1
export const WHITE = 2

/** Plain data, arrays per property. */
export interface LevelPlan {
  /** The kit's universes (as Glowchart numbers them), rising; levels have 512 bytes for each. */
  readonly universes: readonly number[]

  // By fixture on the wire.
  readonly ids: readonly string[]
  /** Its channels are those from here to the next fixture's; one more entry than there are fixtures. */
  readonly firstChannel: Int32Array
  /** Its cells of the stage. */
  readonly firstCell: Int32Array
  readonly cells: Int32Array
  /** 1 where one dimmer acts on the whole fixture. */
  readonly hasIntensity: Uint8Array
  /** Light = level ^ gamma. */
  readonly gamma: Float64Array
  /** Factors on red, green and blue that make full white look white, three a fixture. */
  readonly balance: Float64Array

  // By cell of the stage.
  /** `COLOURS`, `WHITE`, both or neither. */
  readonly lamps: Uint8Array

  // By channel.
  /** One of `does`. */
  readonly does: Uint8Array
  /** Its cell of the stage, for colours and white. */
  readonly cell: Int32Array
  /** Its (coarse) byte among the levels. */
  readonly slot: Int32Array
  /** 8 or 16. */
  readonly bits: Uint8Array
  /** The level of a fixed one, 0…1. */
  readonly fixed: Float64Array
}

/** Plans a kit's levels. A fixture's channels are those of its patch: colours exchanged, no wider than its decoder. */
export function levelPlan(rig: Rig, kit: Kit): LevelPlan {
  const stage = stageOf(rig, kit)
  const standing = new Map<string, StageFixture[]>()
  for (const fixture of stage.fixtures)
    standing.set(fixture.id, [...(standing.get(fixture.id) ?? []), fixture])
  const wired = patch(rig, kit).entries.flatMap(entry => {
    const fixture = standing.get(entry.fixture)?.shift()
    return fixture ? [{ entry, fixture, build: rig.builds[fixture.build]! }] : []
  })
  const universes = [...new Set(wired.map(({ entry }) => entry.universe))].sort((a, b) => a - b)
  const channels = wired.map(({ entry, fixture }) => {
    let slot = universes.indexOf(entry.universe) * 512 + entry.address - 1
    return entry.channels.map(channel => {
      const at = slot
      slot += channel.bits / 8
      return { ...channel, slot: at, cell: cellOf(channel, fixture) }
    })
  })
  const all = channels.flat()
  const lamps = new Uint8Array(stage.cells)
  for (const channel of all) {
    if (channel.does === 'white') lamps[channel.cell]! |= WHITE
    else if (channel.does !== 'intensity' && channel.does !== 'fixed') lamps[channel.cell]! |= COLOURS
  }
  let count = 0
  return {
    universes,
    ids: wired.map(({ fixture }) => fixture.id),
    firstChannel: Int32Array.of(0, ...channels.map(own => (count += own.length))),
    firstCell: Int32Array.from(wired, ({ fixture }) => fixture.firstCell),
    cells: Int32Array.from(wired, ({ fixture }) => fixture.cells),
    hasIntensity: Uint8Array.from(channels, own => Number(own.some(c => c.does === 'intensity'))),
    gamma: Float64Array.from(wired, ({ build }) => ('gamma' in build.response ? build.response.gamma : 1)),
    balance: Float64Array.from(wired.flatMap(({ build }) => build.whiteBalance)),
    lamps,
    does: Uint8Array.from(all, c => does[c.does]),
    cell: Int32Array.from(all, c => c.cell),
    slot: Int32Array.from(all, c => c.slot),
    bits: Uint8Array.from(all, c => c.bits),
    fixed: Float64Array.from(all, c => (c.does === 'fixed' ? c.value : 0)),
  }
}

/** A channel's cell of the stage; one that the build has not is taken for its last. */
const cellOf = (channel: Channel, { firstCell, cells }: StageFixture): number =>
  firstCell + ('cell' in channel ? Math.min(channel.cell, cells - 1) : 0)
