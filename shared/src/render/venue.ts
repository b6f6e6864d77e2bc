// What a venue does to the light of every song, as numbers that the renderer reads.

import type { Kit } from '../show/schema.ts'
import type { House, Live } from './live.ts'

export interface VenueLimits {
  /** Factor on the grand master, and what it never exceeds; L*. */
  readonly trim: number
  readonly highest: number
  /** Flashes a second above which a strobe shows its mean: 0 is no strobe at all, Infinity no limit. */
  readonly flashes: number
  /** Light late against the clock, ms; below 0 early. */
  readonly lightOffset: number
}

export function venueLimits({ venue }: Kit): VenueLimits {
  const { trim = 1, highest = 1, strobes = Number.POSITIVE_INFINITY, lightOffset = 0 } = venue ?? {}
  return { trim, highest, flashes: strobes === 'none' ? 0 : strobes, lightOffset }
}

/** What the grand master comes to under the house's master and the venue's limits, L*. */
export const grandUnder = (live: Pick<Live, 'grand'>, house: House, venue: VenueLimits): number =>
  Math.min(venue.highest, live.grand * house.grand * venue.trim)
