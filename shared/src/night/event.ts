// One event of the night: what happened, in words that were true when it happened, and where in the songs.

import { z } from 'zod'

export const nightKinds = [
  /** The server, the engine, the app: started, gone, back. */
  'server',
  'engine',
  'app',
  /** A song or a look that stands; its start, stop and end; what was repeated, and where it was jumped to. */
  'song',
  'look',
  'start',
  'stop',
  'end',
  'repeat',
  'jump',
  'version',
  'output',
  'sending',
  'node',
  'clock',
  'frames',
  'power',
  'strobes',
  'blackout',
  'house',
  'understudy',
  'check',
  'port',
  'time',
  'page',
  /** The log itself. */
  'log',
] as const

export const nightEventSchema = z.object({
  /** ISO 8601, UTC. */
  at: z.iso.datetime(),
  kind: z.enum(nightKinds),
  /** One sentence, with names as they were then. */
  says: z.string().max(600),
  /** The title of the song that stood, the bar (from 1) and the section, where there is one. */
  song: z.string().max(80).optional(),
  bar: z.int().optional(),
  section: z.string().max(80).optional(),
  /** Something went wrong. */
  fault: z.boolean().optional(),
})
export type NightEvent = z.infer<typeof nightEventSchema>

/** Events of a log file, one JSON object a line. A line that is cut short or damaged is passed over, and counted. */
export function parseNight(text: string): { events: NightEvent[]; damaged: number } {
  const events: NightEvent[] = []
  let damaged = 0
  for (const line of text.split('\n')) {
    if (line.trim() === '') continue
    const parsed = nightEventSchema.safeParse(jsonOf(line))
    if (parsed.success) events.push(parsed.data)
    else damaged++
  }
  return { events, damaged }
}

function jsonOf(line: string): unknown {
  try {
    return JSON.parse(line)
  } catch {
    return undefined
  }
}
