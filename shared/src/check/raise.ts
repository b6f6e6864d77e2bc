// What a line check raises: one channel of one fixture with everything else dark, or a glow on all for plugging up.

import type { Check } from '../render/check.ts'
import type { Group, Station } from './stations.ts'

/** What is looked at, one after the other: a colour, the white, or all channels together. */
export type Raise = 'red' | 'green' | 'blue' | 'white' | 'all'

const NONE = { red: 0, green: 0, blue: 0, white: 0 }

/** Level of the glow for plugging up, 0…1: enough to be seen on a lit stage while a stand is carried. */
export const GLOW = 0.12

/**
 * What is worth raising at a station, in order. `white` is a white channel where there is one, and the three colours
 * together where there is none; `all`, colours and white channel together, comes only beside a white channel. A fixture
 * with a dimmer alone has `all`.
 */
export function raisesOf({ slots }: Station): Raise[] {
  const has = (what: string): boolean => slots.carries.some(({ does }) => does === what)
  const colours = (['red', 'green', 'blue'] as const).filter(has)
  const raises: Raise[] = [...colours]
  if (has('white')) raises.push('white')
  else if (colours.length > 1) raises.push('white')
  if (has('white') && colours.length > 0) raises.push('all')
  return raises.length > 0 ? raises : has('intensity') ? ['all'] : []
}

/** The check that holds one raise at a station, everything else dark. */
export function raised({ fixture, slots }: Station, raise: Raise): Check {
  if (fixture === null) return { lights: {}, others: 0, slots: [] }
  const hasWhite = slots.carries.some(({ does }) => does === 'white')
  const colours = { ...NONE, red: 1, green: 1, blue: 1 }
  const light =
    raise === 'all'
      ? { ...colours, white: 1 }
      : raise === 'white'
        ? hasWhite
          ? { ...NONE, white: 1 }
          : colours
        : { ...NONE, [raise]: 1 }
  return { lights: { [fixture]: light }, others: 0, slots: [] }
}

/**
 * The glow for plugging up: every light a little on, and every empty socket too, slot by slot, so that whatever is put
 * in lights at once. At most 512 slots, as the message holds; 16-bit outputs by their coarse byte.
 */
export function glowOf(groups: readonly Group[]): Check {
  const empty = groups.flatMap(({ stations }) => stations).filter(({ fixture }) => fixture === null)
  const slots = empty.flatMap(({ universe, slots: { first, last, bits } }) => {
    const step = bits / 8
    return Array.from({ length: Math.max(0, Math.ceil((last - first + 1) / step)) }, (_, i) => ({
      universe,
      address: first + i * step,
      value: GLOW,
    }))
  })
  return { lights: {}, others: GLOW, slots: slots.slice(0, 512) }
}
