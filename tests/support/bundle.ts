// Bundles a script with what it imports, for a browser.

import { build } from 'vite'

/** The text of one module that needs nothing else. @param entry path */
export async function bundled(entry: string): Promise<string> {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: { write: false, minify: false, lib: { entry, formats: ['es'], fileName: 'page' } },
    define: { 'process.env.NODE_ENV': '"production"' },
  })
  const output = Array.isArray(built) ? built[0] : built
  if (!output || !('output' in output)) throw new Error('the build gave no output')
  return output.output[0].code
}
