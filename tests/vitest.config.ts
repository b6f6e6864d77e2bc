// How the tests run: the server and the page built first, what is timed by ear or clock alone at the end, what did not run said last.
import { fileURLToPath } from 'node:url'
import { configDefaults, defineConfig } from 'vitest/config'

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url))

/** What measures sound or touch against the engine while it plays: a neighbour at work on the machine would be measured too. */
const timed = [
  'tests/browser/audition.test.ts',
  'tests/browser/page-midi.test.ts',
  'tests/browser/tap.test.ts',
  'tests/recording/play.test.ts',
]

export default defineConfig({
  root: here('..'),
  test: {
    globalSetup: [here('support/build.ts')],
    reporters: ['default', here('support/reporter.ts')],
    testTimeout: 90_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: [...configDefaults.exclude, ...timed],
          sequence: { groupOrder: 0 },
        },
      },
      { extends: true, test: { name: 'alone', include: timed, maxWorkers: 1, sequence: { groupOrder: 1 } } },
    ],
  },
})
