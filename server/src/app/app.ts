// The app's HTTP side: the page, the live socket, import and export; built apart from listening.

import fastifyStatic from '@fastify/static'
import fastifyWebsocket from '@fastify/websocket'
import { CodedError, problem } from '@glowchart/shared/errors.ts'
import { bundleText, parseBundle } from '@glowchart/shared/show/bundle.ts'
import Fastify, { type FastifyInstance } from 'fastify'
import type { DocumentStore } from './documents.ts'
import type { EngineLink } from './engine-link.ts'
import { guard } from './guard.ts'
import { liveSocket } from './live-socket.ts'

const MOST_BODY = 64 * 1024 * 1024
const MOST_MESSAGE = 1024 * 1024

export interface AppOptions {
  documents: DocumentStore
  engine: EngineLink
  /** The built page. */
  pageFolder: string
}

export async function buildApp({ documents, engine, pageFolder }: AppOptions): Promise<FastifyInstance> {
  const app = Fastify({ bodyLimit: MOST_BODY, forceCloseConnections: true })
  app.setErrorHandler((error, _request, reply) => {
    if (error instanceof CodedError) {
      const status = error.code === 'request.host' || error.code === 'request.origin' ? 403 : 400
      return reply.code(status).send(error.problem)
    }
    const { statusCode = 500, message } = error as { statusCode?: number; message: string }
    if (statusCode === 413) return reply.code(413).send(problem('request.tooLarge', message, 'body'))
    if (statusCode < 500) return reply.code(statusCode).send(problem('request.unknown', message, 'request'))
    process.stderr.write(`${(error as Error).stack}\n`)
    return reply.code(500).send(problem('request.failed', message, 'request'))
  })
  app.setNotFoundHandler((request, reply) =>
    reply.code(404).send(problem('request.unknown', `there is nothing at ${request.url}`, request.url)),
  )
  guard(app)
  await app.register(fastifyWebsocket, { options: { maxPayload: MOST_MESSAGE, perMessageDeflate: false } })
  await app.register(fastifyStatic, { root: pageFolder })

  const live = liveSocket(documents, engine)
  app.get('/live', { websocket: true }, (socket, request) => {
    live.join(socket, (request.query as { client?: string }).client)
  })
  app.get('/api/status', () => ({
    show: documents.show.name,
    revision: documents.revision,
    engine: live.status,
  }))
  app.get('/api/export', (_request, reply) =>
    reply
      .header('content-disposition', `attachment; filename="${documents.show.id}.glowchart.json"`)
      .type('application/json')
      .send(bundleText(documents)),
  )
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (_request, body, done) =>
    done(null, body),
  )
  app.post('/api/import', async request => {
    await documents.replace(parseBundle(String(request.body), 'the file sent'))
    return { show: documents.show.name, revision: documents.revision }
  })
  return app
}
