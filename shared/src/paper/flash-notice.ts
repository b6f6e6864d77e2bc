// Flashing light in words for the house: the notice for the audience, the limit that is armed, and what size counts.

import type { Advice } from '../advice/advice.ts'
import { fieldWidth, smallArea } from '../advice/flash/area.ts'
import { ADAPTED, screenLimit } from '../advice/flash/limits.ts'
import { counted } from '../advice/words.ts'
import type { Venue } from '../show/venue.ts'

export interface FlashNotice {
  /** To be posted at the entrance; null where nothing was found that flashes faster than the limits, or for long. */
  readonly audience: string | null
  /** What was found, or was not. */
  readonly found: string
  /** What is armed tonight. */
  readonly limit: string
  /** How large flashing light may look before its size is no excuse. */
  readonly size: string
}

/** Whether a piece of advice is on flashing light that the audience sees. */
export const isOnFlashes = ({ kind }: Advice): boolean => kind === 'fastFlashes' || kind === 'longFlashing'

/** @param flashes the advice on flashing light of tonight's songs, all of them read */
export function flashNotice(flashes: readonly Advice[], venue: Venue | undefined): FlashNotice {
  const songs = new Set(flashes.map(({ place }) => place.song)).size
  const most = Math.max(0, ...flashes.flatMap(one => one.flashes ?? []))
  return {
    audience:
      songs === 0
        ? null
        : 'Flashing light is used in this performance. It can harm people with photosensitive epilepsy: if it troubles you, cover one eye, look away, and tell our staff.',
    found:
      songs === 0
        ? 'In no song of tonight does light flash faster than the limits below, as written. Hands on the desk and other light in the room are not counted: post a notice where in doubt.'
        : `Light flashes in ${counted(songs, 'song')} of tonight, up to ${Number(most.toFixed(1))} times a second. Please post this at the entrance, and tell us what you allow.`,
    limit: limitText(venue?.strobes),
    size: `WCAG 2.2 leaves flashing light out that looks smaller than 0.006 sr within any 10° of the view: ${sizes()} (${ADAPTED}). We do not count on it: walls, haze and wet floors flash with the lights.`,
  }
}

function limitText(strobes: Venue['strobes']): string {
  if (strobes === undefined) return 'No limit on strobes is armed for tonight; one can be, in one press.'
  if (strobes === 'none')
    return 'No strobe flashes tonight: each stands steady at its mean. Other light can still flash.'
  const above =
    strobes > screenLimit.flashes ? ` That is more than the ${screenLimit.flashes} of the limits below.` : ''
  return `Strobes faster than ${strobes} flashes a second stand steady tonight. Other light can still flash.${above}`
}

const sizes = (): string =>
  [5, 10, 20, 30]
    .map(
      from =>
        `from ${from} m ${smallArea(from).toFixed(2)} m² in a disc ${fieldWidth(from).toFixed(2)} m across`,
    )
    .join(', ')
