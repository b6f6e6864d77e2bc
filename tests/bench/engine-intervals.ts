// Bench: how far the frames of the whole product are from their due times, left alone and with five pages busy on it.

import { openPage, type PageSocket } from '../support/page-socket.ts'
import { serveDemo } from '../support/processes.ts'
import { figure, ratio, table, within } from './figures.ts'
import { timed } from './timed.ts'

const SECONDS = 10
const PAGES = 5

/** One page's hands: takes every frame, renames the band (durable, and compiled anew) and rides the grand master, on and on. */
async function work(page: PageSocket, still: () => boolean): Promise<number> {
  page.send({ type: 'frames', on: true })
  let answers = 0
  while (still()) {
    await page.ask({ type: 'edit', edit: 'renameShow', args: { name: `The Rusty Almanac ${answers % 2}` } })
    await page.ask({ type: 'live', live: { grand: answers % 2 ? 1 : 0.8 } })
    answers += 2
  }
  return answers
}

async function measure(busy: boolean): Promise<string[][]> {
  const served = await serveDemo()
  const pages: PageSocket[] = []
  try {
    const watcher = await openPage(served.url, 'bench-watcher')
    pages.push(watcher)
    await watcher.ask({ type: 'transport', transport: { do: 'play' } })
    let on = true
    const hands: Promise<number>[] = []
    for (let i = 0; busy && i < PAGES; i++) {
      const page = await openPage(served.url, `bench-page-${i}`)
      pages.push(page)
      hands.push(work(page, () => on))
    }
    const before = await watcher.status(() => true)
    const plain = await timed('setInterval', SECONDS)
    on = false
    const answers = (await Promise.all(hands)).reduce((sum, n) => sum + n, 0)
    const { frames } = await watcher.status(({ frames }) => frames.rendered > before.frames.rendered)
    const name = busy ? `${PAGES} pages, ${answers} edits and moves` : 'no page at work'
    const late = [0.5, 0.99, 1].map(share => within(plain.errors, share))
    return [
      [`${name}: setInterval`, ...late.map(figure), '1', '–', '–'],
      [
        `${name}: engine`,
        ...[frames.errorP50, frames.errorP99, frames.errorMax].map(figure),
        ratio(frames.errorP99, late[1]!),
        String(frames.rendered),
        String(frames.skipped),
      ],
    ]
  } finally {
    for (const page of pages) page.close()
    await served.close()
  }
}

const rows = [...(await measure(false)), ...(await measure(true))]
console.log(`## Frames of the running product

\`serve demo\` plays for ${SECONDS} s without a way out; the engine's own figures since its start (distance of each frame from
its due time, so a late frame counts once). Busy: ${PAGES} pages take every frame and each sends an edit or a move of the
grand master as soon as the last one is answered. Baseline: \`setInterval\` on a thread of the bench, at the same time
(distance of its intervals from the period, which leaves out its drift).

${table(['ms', 'p50', 'p99', 'max', 'p99 / baseline', 'frames', 'left out'], rows)}`)
