// The live state: what the hands on the show do to the light, over whatever the song writes.

import { z } from 'zod'
import { id, share } from '../show/fields.ts'

export const liveSchema = z.object({
  /** Grand master, in L* like every level. */
  grand: share,
  /** Part masters; a part that is not listed stands at 1. */
  parts: z.record(id, share),
  /** Bumps held now: the part at full white times this level, on top of the song. */
  bumps: z.record(id, share),
  blackout: z.boolean(),
  /** Clock stopped: the look stays; strobes and pulses render their mean. */
  hold: z.boolean(),
  /** Strobes render their mean, whatever the song says. */
  strobeStop: z.boolean(),
  /** Cue tracks heard alone: those of the song that are not listed stay dark. Empty, or none of this song: all play. */
  solo: z.array(id).max(256),
  /** Fixtures lit to be found: white, over everything else, blackout too; the rest of the stage steps back. */
  lit: z.array(id).max(2000),
})
export type Live = z.infer<typeof liveSchema>

/**
 * What the house's own desk holds over the show (see `kit.venue.house`), apart from what the performers' hands do: its
 * master in L*, a factor on the grand master, and its blackout.
 */
export interface House {
  readonly grand: number
  readonly blackout: boolean
}

/** The house holds nothing. */
export const freeHouse: House = { grand: 1, blackout: false }

export const freshLive = (): Live => ({
  grand: 1,
  parts: {},
  bumps: {},
  blackout: false,
  hold: false,
  strobeStop: false,
  solo: [],
  lit: [],
})

/** The live state with the fields of `patch` in place of those that stand. */
export function patchedLive(live: Live, patch: { readonly [K in keyof Live]?: Live[K] | undefined }): Live {
  const given = Object.entries(patch).filter(([, value]) => value !== undefined)
  return { ...live, ...Object.fromEntries(given) }
}
