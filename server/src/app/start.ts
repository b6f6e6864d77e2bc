// Starts the app: documents opened, routes built, the port taken; one place that ends it all again.

import type { AddressInfo } from 'node:net'
import { CodedError } from '@glowchart/shared/errors.ts'
import type { Bundle } from '@glowchart/shared/show/bundle.ts'
import { buildApp } from './app.ts'
import { openDocuments } from './documents.ts'
import type { EngineLink } from './engine-link.ts'

export interface StartOptions {
  dataFolder: string
  /** 0: any free port. Loopback only. */
  port: number
  pageFolder: string
  engine: EngineLink & { close(): void }
  /** Taken into the data folder when it is not there yet, and opened. */
  first: Bundle | undefined
}

/** @throws CodedError `data.*`, `document.*`, or `request.port` when the port is taken */
export async function startApp(
  options: StartOptions,
): Promise<{ url: string; notices: readonly string[]; close(): Promise<void> }> {
  const { dataFolder, port, pageFolder, engine, first } = options
  const documents = await openDocuments(dataFolder, first)
  const app = await buildApp({ documents, engine, pageFolder })
  try {
    await app.listen({ host: '127.0.0.1', port })
  } catch (error) {
    await documents.close()
    if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error
    throw new CodedError('request.port', `port ${port} is taken`, `127.0.0.1:${port}`)
  }
  const { port: taken } = app.server.address() as AddressInfo
  return {
    url: `http://localhost:${taken}`,
    notices: documents.notices,
    async close() {
      await app.close()
      engine.close()
      await documents.close()
    },
  }
}
