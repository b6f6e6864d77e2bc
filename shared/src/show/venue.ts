// The venue tonight, as a kit carries it: how bright, how late, and what the house does not allow.

import { z } from 'zod'
import { share } from './fields.ts'
import { houseInputSchema } from './house-input.ts'

/** Light may be moved so far against the clock, ms either way. */
export const MOST_OFFSET = 200
/** Faster strobes than this render their mean at 44 frames a second anyway, flashes a second. */
export const MOST_FLASHES = 22

export const venueSchema = z.object({
  /** Factor on the grand master tonight, in L* like every level: the room is small, or dark. */
  trim: share.optional(),
  /** The grand master never lets more through than this, wherever it stands, L*. */
  highest: share.optional(),
  /** Strobes that flash faster than this many times a second show their mean; 'none': all do. */
  strobes: z.union([z.literal('none'), z.number().min(0.5).max(MOST_FLASHES)]).optional(),
  /** Light late (above 0) or early (below 0) against the clock, ms: for a delayed sound system, or slow fixtures. */
  lightOffset: z.int().min(-MOST_OFFSET).max(MOST_OFFSET).optional(),
  /** What the house's desk may hold; left out: it is not listened to. */
  house: houseInputSchema.optional(),
})
export type Venue = z.infer<typeof venueSchema>
