// The log of a night as it is read: by song, as text, and as a table for a spreadsheet.

import { timeText } from './evening.ts'
import type { NightEvent } from './event.ts'

/** Events in a row that belong to one song, or to no song. */
export interface Chapter {
  readonly song: string | null
  readonly events: readonly NightEvent[]
}

/** Faults and what came back after them. */
const troubles: readonly NightEvent['kind'][] = [
  'sending',
  'node',
  'clock',
  'frames',
  'engine',
  'app',
  'port',
  'house',
  'time',
]

export const isTrouble = ({ fault, kind }: NightEvent): boolean => fault === true || troubles.includes(kind)

/** In the order of time; what belongs to no song stays in the chapter it fell into, but a start begins one. */
export function chaptersOf(events: readonly NightEvent[]): Chapter[] {
  const chapters: { song: string | null; events: NightEvent[] }[] = []
  for (const event of events) {
    const song = event.song ?? null
    const last = chapters.at(-1)
    if (last && (last.song === song || (song === null && event.kind !== 'server'))) last.events.push(event)
    else chapters.push({ song, events: [event] })
  }
  return chapters
}

/** “21:04:12”. @param offset minutes that local time is ahead of UTC */
export const clockText = (at: string, offset: number): string =>
  `${timeText(Date.parse(at), offset)}:${at.slice(17, 19)}`

export function nightText(evening: string, events: readonly NightEvent[], offset: number): string {
  const lines = chaptersOf(events).flatMap(({ song, events: own }) => [
    '',
    song ?? 'No song',
    ...own.map(({ at, says, fault }) => `  ${clockText(at, offset)}  ${fault ? '! ' : '  '}${says}`),
  ])
  return `The night of ${evening}\n${lines.join('\n')}\n`
}

/** RFC 4180: comma, quotes doubled, CRLF. Times are ISO 8601 in UTC. */
export function nightCsv(events: readonly NightEvent[]): string {
  const rows = events.map(({ at, kind, fault, song = '', section = '', bar = '', says }) =>
    [at, kind, fault ? 'fault' : '', song, section, String(bar), says].map(cell).join(','),
  )
  return `${['time,kind,fault,song,section,bar,what', ...rows].join('\r\n')}\r\n`
}

/** A spreadsheet takes what begins like a formula for one: a quote before it keeps it text. */
function cell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}
