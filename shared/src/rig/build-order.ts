// What a build's list of channels is in short: its colour order, white and dimmer; null for a list of another kind.

import { sameValue } from '../show/diff.ts'
import { type ColourOrder, channelsOf } from './channels.ts'
import type { Build } from './schema.ts'

export const colourOrders = [
  'rgb',
  'rbg',
  'grb',
  'gbr',
  'brg',
  'bgr',
] as const satisfies readonly ColourOrder[]

/** A list of channels that `channelsOf` makes. */
export interface Plain {
  readonly order: ColourOrder
  readonly cells: number
  readonly bits: 8 | 16
  readonly white: boolean
  readonly intensity: boolean
}

export const channelsOfPlain = ({ order, cells, bits, white, intensity }: Plain): Build['channels'] =>
  channelsOf(order, cells, bits, { white, intensity })

/** Null for a list that is not every cell's colours in one order, such as a rented fixture's. */
export function plainOf({ channels, cells }: Pick<Build, 'channels' | 'cells'>): Plain | null {
  const bits = channels[0]!.bits
  const intensity = channels[0]!.does === 'intensity'
  const white = channels.some(channel => channel.does === 'white')
  const plain = colourOrders
    .map(order => ({ order, cells, bits, white, intensity }))
    .find(tried => sameValue(channelsOfPlain(tried), channels))
  return plain ?? null
}
