// What a change of status says about the songs: which stands, where it started and stopped, what was repeated or jumped to.

import type { EngineStatus } from '../messages.ts'
import { TICKS_PER_BEAT } from '../time/units.ts'
import type { NightEvent } from './event.ts'
import type { Names } from './names.ts'

/** When an event is, and where in the songs. */
export type Moment = Pick<NightEvent, 'at' | 'song' | 'bar' | 'section'>

/** A place further from where the song would be by itself is a jump: a slewing clock and a late status stay below. */
const JUMP_BEATS = 2

export function songEvents(
  before: EngineStatus | null,
  now: EngineStatus,
  names: Names,
  moment: Moment,
): NightEvent[] {
  const event = (kind: NightEvent['kind'], says: string): NightEvent => ({ ...moment, kind, says })
  const title = now.song === null ? '' : names.song(now.song)
  if (!before) {
    if (now.song === null) return now.look === null ? [] : [event('look', `${names.look(now.look)} stands.`)]
    const where = now.playing
      ? `plays, at bar ${moment.bar}`
      : now.position > 0
        ? `stands at bar ${moment.bar}`
        : 'stands ready'
    return [event(now.playing ? 'start' : 'song', `${title} ${where}.`)]
  }
  const isSame = before.song === now.song && before.look === now.look
  const left = before.playing && (!now.playing || !isSame) ? leaving(before, now, names, moment.at) : []
  if (!isSame) {
    const stands =
      now.song !== null
        ? [event('song', `${title} stands ready.`)]
        : now.look !== null
          ? [event('look', `${names.look(now.look)} stands.`)]
          : []
    return [...left, ...stands, ...(now.playing ? [started(now, title, moment)] : [])]
  }
  if (left.length > 0) return left
  if (now.song === null) return []
  if (!before.playing && now.playing) return [started(now, title, moment)]
  const { repeated } = now
  if (repeated && repeated.times > 0 && isNewRound(before.repeated, repeated)) {
    // A vamp may go round a hundred times: its first round back is told.
    if (repeated.times > 1) return []
    const what = names.place(now.song, repeated.from)?.section ?? title
    return [event('repeat', `${what} is repeated.`)]
  }
  if (Math.abs(now.position - expected(before, now)) <= JUMP_BEATS * TICKS_PER_BEAT) return []
  const place = moment.section === undefined ? `bar ${moment.bar}` : `${moment.section}, bar ${moment.bar}`
  return now.playing
    ? [event('jump', `Jumped ${now.position < before.position ? 'back' : 'on'} to ${place}.`)]
    : [event('jump', now.position === 0 ? `${title} stands at its start.` : `Stands at ${place} now.`)]
}

const started = (now: EngineStatus, title: string, moment: Moment): NightEvent => ({
  ...moment,
  kind: 'start',
  says: now.position < TICKS_PER_BEAT ? `${title} starts.` : `${title} goes on from bar ${moment.bar}.`,
})

/** The song that was left is named, where it was left. */
function leaving(before: EngineStatus, now: EngineStatus, names: Names, at: string): NightEvent[] {
  if (before.song === null) return []
  const isSame = before.song === now.song
  // The newest place of it that is known: it may have been put back to its start as it stopped.
  const position = isSame ? Math.max(before.position, now.position) : before.position
  const place = names.place(before.song, position)
  const song = names.song(before.song)
  const moment = { at, song, ...place }
  // A status comes ten times a second: the end may lie a beat after the last one.
  if (position >= names.length(before.song) - TICKS_PER_BEAT)
    return [{ ...moment, kind: 'end', says: `${song} ends.` }]
  const where = place ? ` in ${place.section === undefined ? '' : `${place.section}, `}bar ${place.bar}` : ''
  return [{ ...moment, kind: 'stop', says: `${song} stops${where}.` }]
}

const isNewRound = (before: EngineStatus['repeated'], now: NonNullable<EngineStatus['repeated']>): boolean =>
  !before || before.from !== now.from || now.times > before.times

/** Where the song would be by itself; a glide of tempo is taken as the mean of both ends. */
function expected(before: EngineStatus, now: EngineStatus): number {
  if (!before.playing || before.starts !== null) return now.playing ? now.position : before.position
  const minutes = Math.max(0, now.at - before.at) / 60_000
  return before.position + ((minutes * (before.bpm + now.bpm)) / 2) * TICKS_PER_BEAT
}
