// `GET /api/preflight`: what this machine finds when it looks at itself.

import type { Role } from '@glowchart/shared/access/role.ts'
import type { ServerFacts } from '@glowchart/shared/preflight/facts.ts'
import type { Input } from '@glowchart/shared/trigger/trigger.ts'
import type { FastifyInstance } from 'fastify'
import type { DocumentStore } from '../documents.ts'
import type { Editing } from '../editing.ts'
import type { EngineLink } from '../engine-link.ts'
import type { ShowVersion } from '../show-version.ts'
import { tryDisk } from './disk.ts'
import { fileReader, recordingReader } from './files.ts'

/** More inputs than any show learns; a device that sends everything must not fill the memory. */
const MOST_TOUCHED = 512

export interface PreflightOptions {
  store: DocumentStore
  editing: Editing
  engine: EngineLink
  pages(): readonly Role[]
  version: ShowVersion
}

/** Looks when it is asked, and keeps in mind what was pressed at MIDI ports meanwhile. */
export function preflightRoutes(app: FastifyInstance, options: PreflightOptions): void {
  const { store, editing, engine, version, pages } = options
  const { folder } = store
  const readFiles = fileReader(folder)
  const readRecordings = recordingReader(folder)
  const touched = new Map<string, Input>()
  const endListening = engine.on(message => {
    if (message.type === 'touched' && touched.size < MOST_TOUCHED) {
      touched.set(JSON.stringify(message.input), message.input)
    }
  })
  app.addHook('onClose', async () => void endListening())

  app.get('/api/preflight', async (_request, reply): Promise<ServerFacts> => {
    const { songs } = (version.running ?? editing.documents).show
    const named = [...new Set(Object.values(songs).flatMap(song => song.audio?.file ?? []))]
    const [disk, files, recordings] = await Promise.all([tryDisk(folder), readFiles(), readRecordings(named)])
    reply.header('cache-control', 'no-store')
    const now = new Date()
    return {
      at: now.getTime(),
      offset: -now.getTimezoneOffset(),
      folder,
      disk,
      ...files,
      recovered: [...store.notices, ...version.damaged],
      recordings,
      touched: [...touched.values()],
      pages: pages(),
    }
  })
}
