// Bench: what the product costs a laptop while the stage stands still and the chart is open, now and before.

import { readFileSync } from 'node:fs'
import { openBrowser } from '../support/browser.ts'
import { processesOf, serveDemo } from '../support/processes.ts'
import { mainBefore } from './before.ts'
import { figure, ratio, table } from './figures.ts'

const SECONDS = 5
/** The page has read its advice and drawn what is out of sight by then. */
const SETTLE_MS = 4000
/** By turns, so that what else the machine does falls on both. */
const TURNS = 2

/** Processor time of a process so far, ms: fields 14 and 15 of proc_pid_stat(5), in hundredths of a second on Linux. */
function spent(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ')
  return (Number(fields[11]) + Number(fields[12])) * 10
}

type Shares = Record<'page' | 'app' | 'engine', number>

/** Shares of a core, %. */
async function measure(main?: string): Promise<Shares> {
  const served = await serveDemo([], {}, undefined, main)
  const browser = await openBrowser()
  try {
    const { app, engine } = processesOf(served)
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
    const devtools = await page.context().newCDPSession(page)
    await devtools.send('Performance.enable')
    await page.goto(served.url)
    await page.waitForSelector('.roll')
    await page.waitForTimeout(SETTLE_MS)
    const now = async () => {
      const { metrics } = await devtools.send('Performance.getMetrics')
      const renderer = 1000 * metrics.find(({ name }) => name === 'ProcessTime')!.value
      return { at: performance.now(), page: renderer, app: spent(app), engine: spent(engine) }
    }
    const before = await now()
    await page.waitForTimeout(SECONDS * 1000)
    const after = await now()
    const share = (of: keyof Shares): number => (100 * (after[of] - before[of])) / (after.at - before.at)
    return { page: share('page'), app: share('app'), engine: share('engine') }
  } finally {
    await browser.close()
    await served.close()
  }
}

const mean = (all: readonly Shares[], of: keyof Shares): number =>
  all.reduce((sum, one) => sum + one[of], 0) / all.length

const before: Shares[] = []
const after: Shares[] = []
for (let turn = 0; turn < TURNS; turn++) {
  before.push(await measure(mainBefore))
  after.push(await measure())
}
const names = { page: 'the page (its renderer process)', app: 'the app', engine: 'the engine' } as const
const rows = (Object.keys(names) as (keyof Shares)[]).map(of => [
  names[of],
  figure(mean(before, of)),
  figure(mean(after, of)),
  ratio(mean(after, of), mean(before, of)),
])
const sum = (all: readonly Shares[]): number => mean(all, 'page') + mean(all, 'app') + mean(all, 'engine')
rows.push(['together', figure(sum(before)), figure(sum(after)), ratio(sum(after), sum(before))])
console.log(`## At rest (improved)

\`serve demo\` with the chart open in headless Chromium and nothing played: processor time over ${TURNS} times ${SECONDS} s, as % of one
core. The engine renders and watches its clock 40 times a second all the same. Before, measured by turns in the same run:
every frame came to the page, and the page ran its animation loop at each repaint. Now a stage that stands still is told twice
a second, and the loop rests until something is told.

${table(['% of a core', 'before', 'now', 'now / before'], rows)}`)
