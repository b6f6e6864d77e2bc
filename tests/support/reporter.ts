// The last lines of a test run: what this machine could not run and how to get it, then the counts.

import { existsSync, readFileSync, rmSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Reporter, TestModule } from 'vitest/node'
import { NOT_RUN_FILE, type NotRun } from './not-run.ts'

export default class LastLines implements Reporter {
  readonly #file = fileURLToPath(new URL(`../out/not-run-${process.pid}.jsonl`, import.meta.url))

  /** The workers inherit the name of the file. */
  onInit(): void {
    process.env[NOT_RUN_FILE] = this.#file
    rmSync(this.#file, { force: true })
  }

  onTestRunEnd(modules: ReadonlyArray<TestModule>, unhandled: ReadonlyArray<unknown>): void {
    const counts = { passed: 0, failed: 0, skipped: 0 }
    for (const module of modules) {
      for (const { type } of [...module.children.allTests()].map(one => ({ type: one.result().state }))) {
        if (type !== 'pending') counts[type]++
      }
      // A file that does not load has no tests, and must not count as none failed.
      if (module.state() === 'failed') counts.failed += module.errors().length
    }
    counts.failed += unhandled.length
    for (const { what, howToGet } of this.#notRun()) console.log(`NOT RUN: ${what} — ${howToGet}`)
    console.log(`${counts.passed} passed, ${counts.failed} failed, ${counts.skipped} skipped`)
  }

  #notRun(): NotRun[] {
    if (!existsSync(this.#file)) return []
    const lines = new Set(readFileSync(this.#file, 'utf8').trim().split('\n'))
    rmSync(this.#file)
    return [...lines].map(line => JSON.parse(line) as NotRun)
  }
}
