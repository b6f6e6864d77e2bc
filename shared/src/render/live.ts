// The live state: what the hands on the show do to the light, over whatever the song writes.

import { z } from 'zod'
import { id, share } from '../show/fields.ts'

const step = z.number().min(-1).max(1)

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

/** Of parts only those that are named change. A null takes one off the list; in place of the list, all. */
const parts = z.record(id, share.nullable()).nullable()

/**
 * A change of the live state: fields take the place of those that stand. What several hands hold at once changes part by
 * part, and a step is taken from where the master stands by then: no hand undoes what another has just done.
 */
export const livePatchSchema = liveSchema
  .extend({
    parts,
    bumps: parts,
    /** Masters up or down by so much. */
    steps: z.object({ grand: step, parts: z.record(id, step) }).partial(),
  })
  .partial()
export type LivePatch = z.infer<typeof livePatchSchema>

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

/** The live state after a change. */
export function patchedLive(live: Live, { parts, bumps, steps = {}, ...fields }: LivePatch): Live {
  const given = Object.entries(fields).filter(([, value]) => value !== undefined)
  const next = {
    ...live,
    ...Object.fromEntries(given),
    parts: changed(live.parts, parts),
    bumps: changed(live.bumps, bumps),
  }
  if (steps.grand !== undefined) next.grand = stepped(next.grand, steps.grand)
  for (const [part, by] of Object.entries(steps.parts ?? {}))
    next.parts = { ...next.parts, [part]: stepped(next.parts[part] ?? 1, by) }
  return next
}

function changed(stand: Live['parts'], change: LivePatch['parts']): Live['parts'] {
  if (change === undefined) return stand
  const all = Object.entries({ ...(change && stand), ...change })
  return Object.fromEntries(all.filter((one): one is [string, number] => one[1] !== null))
}

/** Where a master stands after a step, in whole hundredths. */
export const stepped = (stands: number, by: number): number =>
  Math.round(100 * Math.min(1, Math.max(0, stands + by))) / 100
