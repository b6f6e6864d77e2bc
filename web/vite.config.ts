// Builds the page into web/dist, and serves it while it is worked on, with the app behind it.

import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

const app = '127.0.0.1:3210'

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
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
