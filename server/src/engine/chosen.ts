// What stands in the engine: a song or a look, by its id.

import type { TransportState } from '@glowchart/shared/clock/transport.ts'
import { type Problem, problem } from '@glowchart/shared/errors.ts'

export type Chosen = { song: string } | { look: string }

/** What a transport plays; null for nothing. */
export const chosenIn = ({ song, look }: Pick<TransportState, 'song' | 'look'>): Chosen | null =>
  song !== null ? { song } : look !== null ? { look } : null

export const missing = (one: Chosen, where: string): Problem =>
  'song' in one
    ? problem('song.unknown', `there is no song "${one.song}"`, where)
    : problem('document.look', `there is no look "${one.look}"`, where)
