// How the tests run: one config for all, the server and the page built first, what did not run said last.
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url))

export default defineConfig({
  root: here('..'),
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    globalSetup: [here('support/build.ts')],
    reporters: ['default', here('support/reporter.ts')],
    testTimeout: 90_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
  },
})
