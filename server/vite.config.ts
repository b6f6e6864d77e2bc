// Builds the server to plain JavaScript: one entry a process or thread, dependencies left to node_modules.
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

const entry = (path: string): string => fileURLToPath(new URL(`src/${path}`, import.meta.url))

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  ssr: { noExternal: ['@glowchart/shared', 'zod'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist',
    emptyOutDir: true,
    sourcemap: true,
    rollupOptions: {
      input: {
        main: entry('main.ts'),
        app: entry('app/main.ts'),
        engine: entry('engine/main.ts'),
        loop: entry('engine/loop.ts'),
      },
      output: { entryFileNames: '[name].js', chunkFileNames: 'part-[hash].js' },
    },
  },
})
