// Access over HTTP: who asks is looked at before anything of a request is read; joining, and what one is.

import { joinSchema } from '@glowchart/shared/access/access.ts'
import { isAtLeast } from '@glowchart/shared/access/role.ts'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { FastifyInstance } from 'fastify'
import type { Access } from './access.ts'
import { cookieOf } from './cookie.ts'
import { leastOfRoute } from './least-route.ts'

/** Bytes of a request to join. */
const MOST_JOIN = 1024

/**
 * Refuses requests above the asker's role, and adds `GET /api/me` (answers `{ role }`, null for a stranger) and
 * `POST /api/join` (`{ pin, name }`; sets the cookie of the session).
 * @throws CodedError `access.join`, `access.role`
 */
export async function accessRoutes(app: FastifyInstance, access: Access): Promise<void> {
  app.server.on('connection', socket => access.takeOwn(socket))
  app.addHook('onRequest', async ({ raw, method, routeOptions }) => {
    const { url } = routeOptions
    // What is not there is said to be so, to everybody.
    if (url === undefined) return
    const least = leastOfRoute[`${method === 'HEAD' ? 'GET' : method} ${url}`] ?? 'owner'
    if (least === 'anyone') return
    const role = access.whoIs(raw)?.role
    if (!role) throw new CodedError('access.join', 'you have not joined, or your session has ended', url)
    if (!isAtLeast(role, least)) throw new CodedError('access.role', `it takes a ${least}`, url)
  })
  // The rest of a body that nobody is let in with is not waited for.
  app.addHook('onResponse', async ({ raw }, reply) => {
    if ((reply.statusCode === 401 || reply.statusCode === 403) && !raw.complete) raw.socket.destroySoon()
  })

  app.get('/api/me', async ({ raw }) => ({ role: access.whoIs(raw)?.role ?? null }))

  await app.register(async scope => {
    scope.removeAllContentTypeParsers()
    scope.addContentTypeParser('*', { parseAs: 'string' }, (_request, body, done) => done(null, body))
    scope.post('/api/join', { bodyLimit: MOST_JOIN }, async (request, reply) => {
      const asked = joinSchema.safeParse(fromJson(request.body))
      if (!asked.success) throw new CodedError('message.schema', 'a PIN and a name are needed', 'join')
      const { pin, name } = asked.data
      const token = await access.join(pin, name, request.raw.socket.remoteAddress ?? '')
      reply.header('set-cookie', cookieOf(token)).header('cache-control', 'no-store')
      return { role: 'viewer' }
    })
  })
}

function fromJson(text: unknown): unknown {
  try {
    return JSON.parse(String(text))
  } catch {
    return undefined
  }
}
