// The log of the night over HTTP: which evenings there are, one of them, and the same as text or as a table.

import { readFile } from 'node:fs/promises'
import { CodedError } from '@glowchart/shared/errors.ts'
import { eveningOf } from '@glowchart/shared/night/evening.ts'
import { parseNight } from '@glowchart/shared/night/event.ts'
import { nightCsv, nightText } from '@glowchart/shared/night/report.ts'
import type { FastifyInstance } from 'fastify'
import { eveningsIn, nightFile } from '../night/night-log.ts'

const EVENING = /^\d{4}-\d\d-\d\d$/

/**
 * `GET /api/nights`: `{ tonight, offset, evenings }`, newest first. `GET /api/nights/EVENING`: `{ events, damaged }`;
 * with `?as=csv` (RFC 4180) or `?as=text` a file to keep.
 */
export function nightRoutes(app: FastifyInstance, dataFolder: string): void {
  app.get('/api/nights', async (_request, reply) => {
    reply.header('cache-control', 'no-store')
    const now = new Date()
    const offset = -now.getTimezoneOffset()
    return { tonight: eveningOf(now.getTime(), offset), offset, evenings: await eveningsIn(dataFolder) }
  })

  app.get('/api/nights/:evening', async (request, reply) => {
    const { evening } = request.params as { evening: string }
    const text = EVENING.test(evening)
      ? await readFile(nightFile(dataFolder, evening), 'utf8').catch(() => null)
      : null
    if (text === null) throw new CodedError('night.unknown', `there is no log of ${evening}`, evening)
    const night = parseNight(text)
    const { as } = request.query as { as?: unknown }
    reply.header('cache-control', 'no-store')
    if (as !== 'csv' && as !== 'text') return night
    const offset = -new Date(`${evening}T20:00:00`).getTimezoneOffset()
    return reply
      .header(
        'content-disposition',
        `attachment; filename="night-${evening}.${as === 'csv' ? 'csv' : 'txt'}"`,
      )
      .type(as === 'csv' ? 'text/csv; charset=utf-8' : 'text/plain; charset=utf-8')
      .send(as === 'csv' ? nightCsv(night.events) : nightText(evening, night.events, offset))
  })
}
