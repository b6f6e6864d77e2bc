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

/** Areas whose tests take long, or keep something for the whole of their process: a process for each file. */
const apart = [
  'app',
  'browser',
  'cli',
  'document',
  'drills',
  'engine',
  'house',
  'preflight',
  'recording',
  'soak',
].map(area => `tests/${area}/**`)

const project = (name: string, groupOrder: number, test: object) => ({
  root: here('..'),
  // A second to become so, as without a word, is less than a starved machine takes.
  test: {
    name,
    testTimeout: 90_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 10_000 } },
    sequence: { groupOrder },
    ...test,
  },
})

export default defineConfig({
  root: here('..'),
  test: {
    // Not of the projects, each of which would do it again.
    globalSetup: [here('support/whole-run.ts')],
    reporters: ['default', here('support/reporter.ts')],
    maxWorkers: 2,
    // Projects of one group run in the order of their names: the short files last, so that no worker is left alone for long.
    projects: [
      project('apart', 0, {
        include: apart.map(area => `${area}/*.test.ts`),
        exclude: [...configDefaults.exclude, ...timed],
      }),
      // One process reads the modules of `shared` once for many files.
      project('together', 0, {
        include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
        exclude: [...configDefaults.exclude, ...apart],
        isolate: false,
      }),
      project('timed', 1, { include: timed, maxWorkers: 1 }),
    ],
  },
})
