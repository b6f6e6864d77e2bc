// Where the show is at the moment of a press: the engine's last word is up to a tenth of a second old, and is carried on.

import { placeAt } from '../clock/sender.ts'
import type { EngineStatus } from '../messages.ts'
import { countdownAt } from '../set/countdown.ts'
import type { Show } from '../show/schema.ts'
import { timelineOf } from '../time/timeline.ts'
import { ticks } from '../time/units.ts'
import type { Situation } from './deed.ts'

/** How long a word of the engine is carried on, ms: longer would claim what nobody knows. */
const CARRY = 250

/**
 * A press that comes right after a section has begun must mean that section, and one right after the song's end the song
 * that follows: what was told before would make of it the repeat of what is over, and the press would be lost.
 * @param show the one that the engine plays
 * @param now ms of the engine's clock
 */
export function situationAt(
  told: Situation & Pick<EngineStatus, 'at' | 'starts' | 'speed'>,
  show: Show,
  now: number,
): Situation {
  const { at, speed } = told
  const song = told.song === null ? undefined : show.songs[told.song]
  if (!song || !told.playing || told.starts !== null) return told
  const timeline = timelineOf(song)
  const place = ticks(told.position)
  const here = countdownAt(timeline, place, told)
  // What goes back at its end is still what sounds.
  if (!here || here.round !== null || here.next?.id === here.section.id) return told
  const until = Math.min(at + CARRY, Math.max(at, now))
  const position = placeAt({ playing: true, at, place, speed, tempo: timeline.tempo }, until)
  return { ...told, position, playing: position < timeline.length }
}
