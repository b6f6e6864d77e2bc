// Builds the page into web/dist, and serves it while it is worked on, with the app behind it.

import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { constants, gzipSync } from 'node:zlib'
import react from '@vitejs/plugin-react'
import { defineConfig, type Plugin } from 'vite'

const app = '127.0.0.1:3210'

/**
 * Beside each file of text the same in gzip (RFC 1952), made once here and not for every phone. Browsers take other
 * codings only over TLS.
 */
const gzipped: Plugin = {
  name: 'gzipped',
  apply: 'build',
  writeBundle({ dir }) {
    for (const name of readdirSync(dir!, { recursive: true, encoding: 'utf8' })) {
      if (!/\.(js|css|html|svg)$/.test(name)) continue
      const file = join(dir!, name)
      writeFileSync(`${file}.gz`, gzipSync(readFileSync(file), { level: constants.Z_BEST_COMPRESSION }))
    }
  },
}

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react(), gzipped],
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            // Together, so that zod is told not to make code out of text before anything uses it.
            { name: 'zod', test: /[\\/]zod[\\/]|without-eval/ },
            { name: 'react', test: /[\\/](react|react-dom|scheduler)[\\/]/ },
          ],
        },
      },
    },
  },
  worker: { format: 'es' },
  // The app answers only to its own name, so the proxy asks under it.
  server: {
    proxy: {
      '/live': { target: `ws://${app}`, ws: true, changeOrigin: true, headers: { origin: `http://${app}` } },
      '/api': { target: `http://${app}`, changeOrigin: true, headers: { origin: `http://${app}` } },
    },
  },
})
