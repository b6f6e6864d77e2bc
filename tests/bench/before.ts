// The product as it was before it was made faster: built from the same sources, but for the modules that are kept here as
// they were. So what an improvement is worth is measured in one run, on one machine.

import { mkdirSync, rmSync, symlinkSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build, type Plugin } from 'vite'

const at = (path: string): string => fileURLToPath(new URL(path, import.meta.url))

/** Modules of the product, and what stood in their place. */
const replaced = new Map([
  [at('../../web/src/chart/roll/pictures.ts'), new URL('./before/pictures.ts', import.meta.url)],
  [at('../../web/src/advice/key.ts'), new URL('./before/advice-key.ts', import.meta.url)],
  [at('../../web/src/live/animation.ts'), new URL('./before/animation.ts', import.meta.url)],
  [at('../../server/src/engine/frame-news.ts'), new URL('./before/frame-news.ts', import.meta.url)],
])

const folder = at('../dist')
/** Its command line, for `serveDemo`. */
export const mainBefore = `${folder}/server/dist/main.js`

/** Takes the old modules; and leaves out the compressed files, which the page came without. */
const asItWas: Plugin = {
  name: 'as-it-was',
  enforce: 'pre',
  async resolveId(source, importer) {
    const found = await this.resolve(source, importer, { skipSelf: true })
    const old = found && replaced.get(found.id)
    return old ? fileURLToPath(old) : null
  },
  configResolved({ plugins }) {
    const gzipped = plugins.find(plugin => plugin.name === 'gzipped')
    if (gzipped) gzipped.writeBundle = () => {}
  },
}

export async function buildBefore(): Promise<void> {
  rmSync(folder, { recursive: true, force: true })
  for (const part of ['server', 'web']) {
    await build({
      configFile: at(`../../${part}/vite.config.ts`),
      logLevel: 'error',
      plugins: [asItWas],
      build: { outDir: `${folder}/${part}/dist`, emptyOutDir: true },
    })
  }
  // What the server takes from its packages is found beside it.
  mkdirSync(`${folder}/server`, { recursive: true })
  symlinkSync(at('../../server/node_modules'), `${folder}/server/node_modules`, 'dir')
}
