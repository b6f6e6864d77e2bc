// Builds the server and the page once before the tests: what runs as a process is tested as it is shipped.

import { fileURLToPath } from 'node:url'
import { build } from 'vite'

export async function setup(): Promise<void> {
  for (const part of ['server', 'web']) {
    await build({
      configFile: fileURLToPath(new URL(`../../${part}/vite.config.ts`, import.meta.url)),
      logLevel: 'error',
    })
  }
}
