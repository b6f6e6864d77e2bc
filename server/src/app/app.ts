// The app's HTTP side: the page, the live socket, the shows, import and export; built apart from listening.

import { existsSync } from 'node:fs'
import { join, sep } from 'node:path'
import fastifyStatic from '@fastify/static'
import fastifyWebsocket from '@fastify/websocket'
import { CodedError, type ErrorCode, problem } from '@glowchart/shared/errors.ts'
import { MOST_BUNDLE_BYTES } from '@glowchart/shared/show/bundle.ts'
import Fastify, { type FastifyInstance } from 'fastify'
import type { Access } from '../access/access.ts'
import { accessRoutes } from '../access/http.ts'
import { audioRoutes } from './audio.ts'
import type { DocumentStore } from './documents.ts'
import type { Editing } from './editing.ts'
import type { EngineLink } from './engine-link.ts'
import type { Guard } from './guard.ts'
import { openRecovery } from './left-off.ts'
import { liveSocket } from './live-socket.ts'
import { nightRoutes } from './night.ts'
import { preflightRoutes } from './preflight/routes.ts'
import type { ShowVersion } from './show-version.ts'
import { showRoutes } from './shows.ts'
import type { SupervisorLink } from './supervisor-link.ts'

/** Bytes of the largest message on the live socket: some thousand pasted cues. */
const MOST_MESSAGE = 4 * 1024 * 1024

/** `closeTimeout`: a page that is to go and says nothing to it (a phone out of reach) is cut off after so long, ms. */
const socketOptions = { maxPayload: MOST_MESSAGE, perMessageDeflate: false, closeTimeout: 500 }

const FOR_GOOD = `max-age=${365 * 24 * 3600}, immutable`

export interface AppOptions {
  store: DocumentStore
  editing: Editing
  version: ShowVersion
  engine: EngineLink
  access: Access
  guard: Guard
  supervisor: SupervisorLink
  /** The built page. */
  pageFolder: string
}

export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { store, editing, version, engine, access, supervisor, pageFolder } = options
  const app = Fastify({ bodyLimit: MOST_BUNDLE_BYTES, forceCloseConnections: true })
  app.setErrorHandler((error, _request, reply) => {
    if (error instanceof CodedError) return reply.code(statusOf(error.code)).send(error.problem)
    const { statusCode = 500, message } = error as { statusCode?: number; message: string }
    if (statusCode === 413) return reply.code(413).send(problem('request.tooLarge', message, 'body'))
    if (statusCode < 500) return reply.code(statusCode).send(problem('request.unknown', message, 'request'))
    process.stderr.write(`${(error as Error).stack}\n`)
    return reply.code(500).send(problem('request.failed', message, 'request'))
  })
  app.setNotFoundHandler((request, reply) =>
    reply.code(404).send(problem('request.unknown', `there is nothing at ${request.url}`, request.url)),
  )
  options.guard(app, access.isOwn)
  await accessRoutes(app, access)
  await app.register(fastifyWebsocket, { options: socketOptions })
  if (existsSync(join(pageFolder, 'index.html'))) {
    await app.register(fastifyStatic, {
      root: pageFolder,
      preCompressed: true,
      // What has its content's hash in its name is never asked for twice (RFC 8246); the page itself is each time.
      cacheControl: false,
      setHeaders(reply, path) {
        reply.setHeader('cache-control', path.includes(`${sep}assets${sep}`) ? FOR_GOOD : 'no-cache')
        reply.setHeader('vary', 'accept-encoding')
      },
    })
  } else {
    app.get('/', () => {
      throw new CodedError('request.page', 'the page is not there', pageFolder)
    })
  }

  const recovery = openRecovery({ supervisor, store, editing, version, engine })
  const live = liveSocket(editing, version, engine, access, recovery)
  app.get('/live', { websocket: true }, (socket, request) => {
    live.join(socket, (request.query as { client?: string }).client, access.whoIs(request.raw))
  })
  app.addHook('onClose', async () => live.close())
  app.get('/api/status', () => ({
    show: { id: editing.documents.show.id, name: editing.documents.show.name },
    revision: editing.revision,
    engine: live.status,
    notices: [...store.notices, ...version.damaged],
    version: version.running && { number: version.running.number, hash: version.running.hash },
  }))
  showRoutes(app, store, editing, () => {
    if (!version.running || !live.status?.playing) return
    const where = version.running.name
    throw new CodedError('version.runs', `version ${version.running.number} runs, and a song plays`, where)
  })
  nightRoutes(app, store.folder)
  preflightRoutes(app, {
    store,
    editing,
    engine,
    version,
    pages: () => live.pages,
  })
  await audioRoutes(app, store.folder)
  return app
}

function statusOf(code: ErrorCode): number {
  if (code === 'access.join' || code === 'access.pin') return 401
  if (code === 'access.role') return 403
  if (code === 'access.wait') return 429
  if (code === 'access.full') return 503
  if (code === 'request.host' || code === 'request.origin') return 403
  if (
    code === 'show.unknown' ||
    code === 'night.unknown' ||
    code === 'request.page' ||
    code === 'audio.unknown'
  )
    return 404
  if (code === 'import.exists' || code === 'edit.conflict' || code === 'version.runs') return 409
  if (code === 'file.tooLarge' || code === 'audio.tooLarge') return 413
  if (code === 'audio.range') return 416
  return code === 'data.unwritable' || code === 'file.unreadable' ? 500 : 400
}
