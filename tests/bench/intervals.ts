// Bench: how evenly frames come, from the engine's frame clock and from a plain setInterval, idle and beside a busy thread.

import { setImmediate as turn } from 'node:timers/promises'
import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { figure, ratio, table, within } from './figures.ts'
import { RATE, type Timed, timed } from './timed.ts'

const ROUNDS = 3
const SECONDS = 2.5

/** What a page's edits cost the thread beside: documents parsed, written and thrown away, with no pause. */
async function burn(until: Promise<unknown>): Promise<void> {
  const text = JSON.stringify(demoBundle())
  let over = false
  void until.finally(() => {
    over = true
  })
  while (!over) {
    for (const end = performance.now() + 20; performance.now() < end; ) JSON.stringify(JSON.parse(text))
    await turn()
  }
}

// Both in turn, so that whatever else the machine does falls on both.
async function measure(busy: boolean): Promise<Timed[]> {
  const all: Timed[] = []
  for (let round = 0; round < ROUNDS; round++) {
    for (const by of ['setInterval', 'frame clock'] as const) {
      const run = timed(by, SECONDS)
      if (busy) await burn(run)
      all.push(await run)
    }
  }
  return all
}

function row(name: string, all: readonly Timed[], by: Timed['by'], baseline?: number): string[] {
  const mine = all.filter(one => one.by === by)
  const errors = mine.flatMap(one => one.errors)
  const drift = mine.reduce((sum, one) => sum + one.drift, 0) / mine.length
  return [
    `${name}, ${by}`,
    ...[0.5, 0.9, 0.99, 0.999, 1].map(share => figure(within(errors, share))),
    baseline === undefined ? '1' : ratio(within(errors, 0.99), baseline),
    figure(drift),
  ]
}

const rows: string[][] = []
for (const busy of [false, true]) {
  const all = await measure(busy)
  const name = busy ? 'busy' : 'idle'
  const plain = within(
    all.filter(one => one.by === 'setInterval').flatMap(one => one.errors),
    0.99,
  )
  rows.push(row(name, all, 'setInterval'), row(name, all, 'frame clock', plain))
}
console.log(`## Frame intervals

Error of an interval: how far the time between two frames is from the period, ${1000 / RATE} ms. Each row: ${ROUNDS} runs of
${SECONDS} s on a thread of its own (${ROUNDS * SECONDS * RATE} intervals, so p99.9 is nearly the worst); the two take turns. Busy: another thread of the
same process parses and writes the demo's documents without a pause. Baseline: \`setInterval\` in the same condition.

${table(['ms', 'p50', 'p90', 'p99', 'p99.9', 'max', 'p99 / baseline', 'drift, ms a second'], rows)}`)
