// Bench: what twenty guests who look on cost the engine's frames, against none in the same run.

import { openToGuests } from '../support/guests.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'
import { serveDemo } from '../support/processes.ts'
import { figure, ratio, table, within } from './figures.ts'
import { timed } from './timed.ts'

const VIEWERS = 20
const SECONDS = 4
/** None and twenty by turns, so that what else the machine does falls on both. */
const TURNS = 3

interface Measured {
  engine: { p50: number; p99: number; max: number; skipped: number }
  /** Distances of `setInterval` on a thread of the bench at the same time, ms. */
  plain: number[]
  /** Frames that each viewer got a second. */
  seen: number
}

/** A product of its own each time: its figures count from its start. */
async function measure(viewers: number): Promise<Measured> {
  const served = await serveDemo()
  const pages: PageSocket[] = []
  try {
    const owner = await openPage(served.url, 'bench-owner')
    pages.push(owner)
    const opened = await openToGuests(owner)
    for (let i = 0; i < viewers; i++) {
      const page = await (await opened.join(`Viewer ${i}`)).page()
      pages.push(page)
      page.send({ type: 'frames', on: true })
    }
    await owner.ask({ type: 'transport', transport: { do: 'play' } })
    const had = pages.slice(1).reduce((sum, page) => sum + page.frames.length, 0)
    const plain = await timed('setInterval', SECONDS)
    const got = pages.slice(1).reduce((sum, page) => sum + page.frames.length, 0) - had
    const { frames } = await owner.status(() => true)
    return {
      engine: { p50: frames.errorP50, p99: frames.errorP99, max: frames.errorMax, skipped: frames.skipped },
      plain: plain.errors,
      seen: viewers === 0 ? 0 : got / viewers / SECONDS,
    }
  } finally {
    for (const page of pages) page.close()
    await served.close()
  }
}

const none: Measured[] = []
const twenty: Measured[] = []
for (let turn = 0; turn < TURNS; turn++) {
  none.push(await measure(0))
  twenty.push(await measure(VIEWERS))
}
const middle = (values: number[]): number => within(values, 0.5)
const p99 = (all: Measured[]): number => middle(all.map(one => one.engine.p99))
const row = (name: string, all: Measured[]): string[] => [
  name,
  figure(middle(all.map(one => one.engine.p50))),
  figure(p99(all)),
  all.map(one => figure(one.engine.p99)).join(', '),
  figure(Math.max(...all.map(one => one.engine.max))),
  ratio(p99(all), middle(all.map(one => within(one.plain, 0.99)))),
  ratio(p99(all), p99(none)),
  figure(middle(all.map(one => one.seen))),
]
console.log(`## Guests who look on

\`serve demo\` plays ${TURNS} times for ${SECONDS} s with nobody on the network and ${TURNS} times with ${VIEWERS} guests who joined with the PIN and
take every frame, by turns; p50 and p99 are the middle one of ${TURNS}. The engine's own figures since its start: distance of each
frame from its due time. Twenty guests move the p99 by ${figure(p99(twenty) - p99(none))} ms (at most 0.1 ms is wanted). Baselines: nobody there; and
\`setInterval\` on a thread of the bench at the same time. The guests' own sockets run on the same machine.

${table(
  ['ms', 'p50', 'p99', 'p99 of each', 'max', 'p99 / setInterval', 'p99 / nobody there', 'frames/s seen'],
  [row('nobody there', none), row(`${VIEWERS} guests`, twenty)],
)}`)
