// Who may talk to the app: only pages that came from it, by the names it goes under; and what every answer forbids.

import { CodedError } from '@glowchart/shared/errors.ts'
import type { FastifyInstance, FastifyRequest } from 'fastify'

const NAMES = ['localhost', '127.0.0.1', '[::1]']

const HEADERS = {
  'content-security-policy':
    "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; connect-src 'self'; worker-src 'self' blob:; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
}

/**
 * Checks Host and Origin on every request, the live socket's included: another site's page cannot read or steer, and
 * a name that is made to point here (DNS rebinding) is not one of ours.
 * @throws CodedError `request.host`, `request.origin`
 */
export function guard(app: FastifyInstance): void {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(HEADERS)
    checkSource(request)
  })
  // Whoever asked for a socket and was answered by a page keeps the connection, and nobody else would end it.
  app.addHook('onResponse', async ({ raw }) => {
    if (raw.headers.upgrade !== undefined) raw.socket.destroySoon()
  })
}

function checkSource({ headers, socket }: FastifyRequest): void {
  const allowed = NAMES.map(name => `${name}:${socket.localPort}`)
  const host = headers.host ?? ''
  if (!allowed.includes(host))
    throw new CodedError('request.host', `"${host}" is not a name of this server`, 'Host')
  const { origin } = headers
  if (origin !== undefined && !allowed.some(name => origin === `http://${name}`)) {
    throw new CodedError('request.origin', `a page of ${origin} asked`, 'Origin')
  }
}
