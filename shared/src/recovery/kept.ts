// Where the show was left: what is kept for the next start, and how it is offered.

import { z } from 'zod'
import type { EngineStatus } from '../messages.ts'
import type { Names } from '../night/names.ts'
import { share } from '../show/fields.ts'
import { type Output, outputSchema } from '../show/output.ts'

const id = z.string().min(1).max(64)
const title = z.string().max(80)

export const keptSchema = z.object({
  format: z.literal('glowchart-left'),
  version: z.literal(1),
  /** ISO 8601. */
  at: z.iso.datetime(),
  show: z.object({ id, name: title }),
  /** The hash of the published version that ran; null: the draft did. */
  runs: z.string().max(64).nullable(),
  kit: z.object({ id, name: title }),
  /** What stood; both null: nothing. */
  song: z.object({ id, title }).nullable(),
  look: z.object({ id, name: title }).nullable(),
  place: z.int().min(0).max(9999).nullable(),
  position: z.number().min(0).max(1e9),
  bar: z.int().nullable(),
  section: title.nullable(),
  playing: z.boolean(),
  source: z.enum(['internal', 'midi', 'mtc']),
  /** Masters and blackout as they stood; bumps and holds are hands, and hands are off. */
  live: z.object({
    grand: share,
    parts: z.record(id, share),
    blackout: z.boolean(),
    strobeStop: z.boolean(),
  }),
  output: outputSchema,
})
export type Kept = z.infer<typeof keptSchema>

/** What the page is told: what was kept, and what of it is not as it was. */
export interface Offer {
  readonly kept: Kept
  /** Local addresses that light was sent from, and that this computer does not have now. */
  readonly gone: readonly string[]
  /** Another version runs now, or the draft. */
  readonly otherVersion: boolean
  /** Another show is open: going on opens that of then. */
  readonly otherShow: boolean
  /** Another kit has been chosen since: it stays. */
  readonly otherKit: boolean
}

/** Older than this it is another night, ms. */
export const KEPT_FOR = 12 * 3600_000

/** @param at ms since 1970 */
export function keptOf(
  status: EngineStatus,
  output: Output,
  held: {
    readonly show: {
      readonly id: string
      readonly name: string
      readonly tonight: string
      readonly kits: Readonly<Record<string, { readonly name: string }>>
    }
  },
  names: Names,
  at: number,
): Kept {
  const { song, look, position, live } = status
  const place = song === null ? null : names.place(song, position)
  const { show } = held
  return {
    format: 'glowchart-left',
    version: 1,
    at: new Date(at).toISOString(),
    show: { id: show.id, name: show.name },
    runs: status.version,
    kit: { id: show.tonight, name: show.kits[show.tonight]?.name ?? show.tonight },
    song: song === null ? null : { id: song, title: names.song(song) },
    look: look === null ? null : { id: look, name: names.look(look) },
    place: status.place,
    position: Math.max(0, position),
    bar: place?.bar ?? null,
    section: place?.section ?? null,
    playing: status.playing,
    source: status.clock.source,
    live: { grand: live.grand, parts: live.parts, blackout: live.blackout, strobeStop: live.strobeStop },
    output,
  }
}

/** Something was under way: light was sent, or a song had been played. A page that was only looked at is no night. */
export const isUnderWay = ({ output, playing, position }: Kept): boolean =>
  output.routes.length > 0 || playing || position > 0

/** “Stopped in Porchlight, bar 33, 4 minutes ago.” @param now ms since 1970 */
export function leftText({ kept }: Offer, now: number): string {
  const ago = agoText(now - Date.parse(kept.at))
  if (kept.song) {
    const bar = kept.bar === null || kept.position === 0 ? ', at its start' : `, bar ${kept.bar}`
    return `It ended in “${kept.song.title}”${bar}, ${ago}.`
  }
  return kept.look ? `It ended while ${kept.look.name} stood, ${ago}.` : `It ended ${ago}.`
}

function agoText(ms: number): string {
  const minutes = Math.round(ms / 60_000)
  if (ms < 0) return 'at a time that this clock has not reached'
  if (minutes < 1) return 'less than a minute ago'
  if (minutes < 90) return minutes === 1 ? 'a minute ago' : `${minutes} minutes ago`
  return `${Math.round(minutes / 60)} hours ago`
}
