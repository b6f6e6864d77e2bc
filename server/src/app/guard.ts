// Who may talk to the app: only pages that came from it, by the names it goes under; and what every answer forbids.

import type { Socket } from 'node:net'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { FastifyInstance, FastifyRequest } from 'fastify'

const NAMES = ['localhost', '127.0.0.1', '[::1]']

const HEADERS = {
  'content-security-policy':
    "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; media-src 'self' blob:; connect-src 'self'; worker-src 'self' blob:; object-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=(), payment=(), usb=()',
}

/** Puts the guard before every route of an app. @param isOwn whether a connection came by loopback */
export type Guard = (app: FastifyInstance, isOwn: (socket: Socket) => boolean) => void

/**
 * Checks Host and Origin on every request, the live socket's included: another site's page cannot read or steer, and
 * a name that is made to point here (DNS rebinding) is not one of ours. Guests come in by the address of the listener
 * alone.
 * @throws CodedError `request.host`, `request.origin`
 */
export const guard: Guard = (app, isOwn) => {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(HEADERS)
    checkSource(request, isOwn)
  })
  // Whoever asked for a socket and was answered by a page keeps the connection, and nobody else would end it.
  app.addHook('onResponse', async ({ raw }) => {
    if (raw.headers.upgrade !== undefined) raw.socket.destroySoon()
  })
}

function checkSource(
  { headers, socket, method, url }: FastifyRequest,
  isOwn: (socket: Socket) => boolean,
): void {
  const names = isOwn(socket) ? NAMES : [socket.localAddress ?? '']
  const allowed = names.map(name => `${name}:${socket.localPort}`)
  // Browsers leave the port of http out (RFC 9110 4.2.1; WHATWG URL).
  if (socket.localPort === 80) allowed.push(...names)
  const host = headers.host ?? ''
  if (!allowed.includes(host))
    throw new CodedError('request.host', `"${host}" is not a name of this server`, 'Host')
  const { origin } = headers
  if (origin !== undefined && !allowed.some(name => origin === `http://${name}`)) {
    throw new CodedError('request.origin', `a page of ${origin} asked`, 'Origin')
  }
  // Where a browser says no Origin (an image, a script), it says this; a link to the page may be anywhere.
  const site = headers['sec-fetch-site'] ?? 'none'
  const isLink =
    method === 'GET' && headers['sec-fetch-mode'] === 'navigate' && headers['sec-fetch-dest'] === 'document'
  if (site !== 'same-origin' && site !== 'none' && !(isLink && /^\/(?!api\/)/.test(url))) {
    throw new CodedError('request.origin', `a page of another site asked (${site})`, 'Sec-Fetch-Site')
  }
}
