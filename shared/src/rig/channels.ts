// The channel list of a build: made from a colour order, measured in DMX slots, its colours exchanged for one night.

import type { Stand } from '../show/schema.ts'
import type { Channel } from './schema.ts'

/** The order of the three colours on the wire. */
export type ColourOrder = NonNullable<Stand['swap']>
type Primary = 'red' | 'green' | 'blue'

const primaries: Readonly<Record<string, Primary>> = { r: 'red', g: 'green', b: 'blue' }
const primaryAt = (order: ColourOrder, i: number): Primary => primaries[order[i]!]!

/**
 * The channels of a build of `cells` cells (1 or more), cell after cell, each in the given colour order.
 * `white`: a white channel after the colours of every cell. `intensity`: one dimmer for the whole fixture, first.
 */
export function channelsOf(
  order: ColourOrder,
  cells: number,
  bits: 8 | 16 = 8,
  { white = false, intensity = false }: { white?: boolean; intensity?: boolean } = {},
): Channel[] {
  const channels: Channel[] = intensity ? [{ does: 'intensity', bits }] : []
  for (let cell = 0; cell < cells; cell++) {
    for (let i = 0; i < 3; i++) channels.push({ does: primaryAt(order, i), cell, bits })
    if (white) channels.push({ does: 'white', cell, bits })
  }
  return channels
}

/** DMX slots that a list of channels takes: one at 8 bits, two (coarse, fine) at 16. */
export const slotsOf = (channels: readonly Channel[]): number =>
  channels.reduce((sum, c) => sum + c.bits / 8, 0)

/**
 * The channels with their colours exchanged: in 'grb' the outputs of red and green have changed places.
 * The order names which of the build's colours the outputs of red, green and blue drive.
 */
export function exchanged(channels: readonly Channel[], order: ColourOrder | undefined): readonly Channel[] {
  if (order === undefined || order === 'rgb') return channels
  const becomes = { red: primaryAt(order, 0), green: primaryAt(order, 1), blue: primaryAt(order, 2) }
  return channels.map(c =>
    c.does === 'red' || c.does === 'green' || c.does === 'blue' ? { ...c, does: becomes[c.does] } : c,
  )
}
