// Tests that this machine cannot run say so here; the reporter repeats them in the last lines. Nothing skips in silence.

import { appendFileSync, mkdirSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import { test } from 'vitest'

/** Where the notes of this run are kept; the reporter names a file of its own for each run. */
export const NOT_RUN_FILE = 'GLOWCHART_NOT_RUN'
const fallback = fileURLToPath(new URL('../out/not-run.jsonl', import.meta.url))

export interface NotRun {
  what: string
  howToGet: string
}

/** Notes that something was not run, and what the machine lacks for it. */
function notRun(what: string, howToGet: string): void {
  const file = process.env[NOT_RUN_FILE] ?? fallback
  mkdirSync(dirname(file), { recursive: true })
  appendFileSync(file, `${JSON.stringify({ what, howToGet } satisfies NotRun)}\n`)
}

/** `test` where the machine can; else a skipped test, with the note. */
export function testIf(possible: boolean, what: string, howToGet: string): typeof test | typeof test.skip {
  if (possible) return test
  notRun(what, howToGet)
  return test.skip
}
