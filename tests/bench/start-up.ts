// Bench: how long it takes from the command until the page's address answers, and until light is on the wire.

import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { openPage } from '../support/page-socket.ts'
import { serveDemo } from '../support/processes.ts'
import { figure, ratio, table, within } from './figures.ts'
import { nodeAtHand } from './node-at-hand.ts'

const RUNS = 5

const empty: number[] = []
const answers: number[] = []
const lit: number[] = []
for (let run = 0; run < RUNS; run++) {
  const began = performance.now()
  await once(spawn(process.execPath, ['-e', '0'], { stdio: 'ignore' }), 'close')
  empty.push(performance.now() - began)

  const node = await nodeAtHand()
  const started = performance.now()
  const served = await serveDemo()
  answers.push(performance.now() - started)
  const page = await openPage(served.url, 'bench-starter')
  try {
    if (!page.hello.status?.song) await page.status(({ song }) => song !== null)
    const change = node.change()
    const answer = await page.ask({ type: 'output', output: node.output })
    if (answer.type !== 'done') throw new Error(answer.problem.message)
    lit.push((await change) - started)
  } finally {
    page.close()
    await served.close()
    node.close()
  }
}
const base = within(empty, 0.5)
const row = (name: string, all: number[]): string[] => [
  name,
  figure(within(all, 0.5)),
  figure(within(all, 1)),
  ratio(within(all, 0.5), base),
]
console.log(`## Starting up

\`serve demo\` in a folder of its own, ${RUNS} times, from the process being started. A fresh start sends nowhere until a node is
chosen: here that is done the moment the page's socket knows a song. Baseline: \`node -e 0\`, from its start to its end.

${table(
  ['', 'p50, ms', 'max, ms', 'p50 / node -e 0'],
  [
    row('`node -e 0`', empty),
    row('the address of the page answers', answers),
    row('the first frame is on the wire', lit),
  ],
)}`)
