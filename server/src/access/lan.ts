// The second listener, for guests: the same app at one more address, with shorter patience than for this laptop's own pages.

import { createServer, type Server } from 'node:http'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { FastifyInstance } from 'fastify'

/**
 * Whoever sends a request more slowly is cut off (slow-loris): ms for the headers, for all of it, between two, and how
 * often that is looked at.
 */
const PATIENCE = {
  headersTimeout: 10_000,
  requestTimeout: 300_000,
  keepAliveTimeout: 10_000,
  connectionsCheckingInterval: 2000,
}
const MOST_CONNECTIONS = 256

/**
 * Listens at an address of this computer, next to the loopback listener.
 * @throws CodedError `access.address`, `request.port`
 */
export async function listenAt(
  app: FastifyInstance,
  address: string,
  port: number,
  patience = PATIENCE,
): Promise<Server> {
  const where = `${address}:${port}`
  // Loopback is there already; 0.0.0.0 would be every network, and its names could not be checked.
  if (address === '127.0.0.1' || /^(0|22[4-9]|2[3-5]\d)\./.test(address)) {
    throw new CodedError('access.address', 'others cannot come in there', where)
  }
  const server = createServer(patience, app.routing)
  server.maxConnections = MOST_CONNECTIONS
  server.on('upgrade', (...upgrade) => app.server.emit('upgrade', ...upgrade))
  await new Promise<void>((resolve, reject) => {
    server.once('error', error => {
      const { code, message } = error as NodeJS.ErrnoException
      if (code === 'EADDRINUSE') reject(new CodedError('request.port', `port ${port} is taken`, where))
      else reject(new CodedError('access.address', `cannot listen there (${message})`, where))
    })
    server.listen({ host: address, port }, resolve)
  })
  return server
}

/** Ends the listening and every connection; those that became live sockets are ended by who has them. */
export function stopListening(server: Server): void {
  server.close()
  server.closeAllConnections()
}
