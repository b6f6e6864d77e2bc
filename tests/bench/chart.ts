// Bench: the chart with 10,000 cues in 200 sections in a browser: scroll, zoom, drag, and how long an edit takes to be seen
// and to be lit, against an empty page in the same browser.

import { bundleText } from '@glowchart/shared/show/bundle.ts'
import type { Browser, Page } from 'playwright-core'
import { openBrowser } from '../support/browser.ts'
import { longShow } from '../support/long-show.ts'
import { mainPath, serveDemo } from '../support/processes.ts'
import { mainBefore } from './before.ts'
import { watchChart } from './chart-watch.ts'
import { figure, ratio, table, within } from './figures.ts'

const SIZE = { width: 1440, height: 900 }
const EDITS = 10
const FRAMES = 120

/** The loader of TypeScript names functions through a helper, which a page has not. */
const watching = { content: `globalThis.__name = named => named;(${watchChart})()` }

interface Smoothness {
  frames: number[]
  longest: number
}

/** Frame times, ms, and the longest task while `work` goes on in the page. */
async function smoothness(page: Page, work: () => Promise<void>): Promise<Smoothness> {
  await page.evaluate(() => window.bench.begin())
  await work()
  return page.evaluate(() => window.bench.end())
}

const settled = (page: Page): Promise<unknown> =>
  page.waitForFunction(() => window.bench.isQuiet(), null, { timeout: 120_000 })

async function scroll(page: Page): Promise<void> {
  await page.mouse.move(700, 500)
  for (let i = 0; i < FRAMES; i++) {
    await page.mouse.wheel(0, 90)
    await page.evaluate(() => window.bench.nextFrame())
  }
}

async function zoom(page: Page): Promise<void> {
  // Clicked where they stand: to look for a button by its name takes the page itself longer than to zoom.
  const at = await Promise.all(
    ['Fewer bars a line', 'More bars a line'].map(async name => {
      const { x, y, width, height } = (await page.getByRole('button', { name }).boundingBox())!
      return { x: x + width / 2, y: y + height / 2 }
    }),
  )
  await page.evaluate(() => window.bench.begin())
  for (let i = 0; i < 6; i++) {
    const { x, y } = at[i % 2]!
    await page.mouse.click(x, y)
    for (let n = 0; n < FRAMES / 6; n++) await page.evaluate(() => window.bench.nextFrame())
  }
}

interface Edited {
  /** Ms until the light roll has been painted, until the edit is durable, until a frame has been rendered with it. */
  drawn: number
  saved: number
  lit: number
  /** The longest task, and all scripts of the page's own thread until it is quiet again, ms. */
  task: number
  busy: number
}

/** Chooses a cue of a page. Returns what steps its level by a key, as hands do. */
async function handsOn(page: Page): Promise<(n: number) => Promise<Edited>> {
  await page.evaluate(() => document.querySelector('.chart')?.scrollTo(0, 0))
  const cue = (await page.locator('td.cue').nth(0).boundingBox())!
  await page.mouse.click(cue.x + cue.width / 2, cue.y + cue.height / 2)
  await settled(page)
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Performance.enable')
  const worked = async (): Promise<number> => {
    const { metrics } = await devtools.send('Performance.getMetrics')
    return 1000 * metrics.find(({ name }) => name === 'ScriptDuration')!.value
  }
  return async n => {
    await page.evaluate(() => window.bench.begin())
    await page.evaluate(() => window.bench.armEdit())
    const before = await worked()
    await page.keyboard.press(n % 2 === 0 ? 'Shift+ArrowDown' : 'Shift+ArrowUp')
    const seen = await page.evaluate(() => window.bench.edited())
    const { longest } = await page.evaluate(() => window.bench.end())
    await settled(page)
    return { ...seen, task: longest, busy: (await worked()) - before }
  }
}

/** Opens a long show in a page of its own product. */
async function openLong(browser: Browser, fixtures: number, main: string) {
  const served = await serveDemo([], {}, undefined, main)
  const imported = await fetch(`${served.url}/api/import`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: bundleText(longShow({ sections: 200, cues: 10_000, fixtures })),
  })
  if (!imported.ok) throw new Error(`The long show was refused: ${await imported.text()}`)
  const page = await browser.newPage({ viewport: SIZE })
  await page.addInitScript(watching)
  await page.goto(served.url)
  await page.waitForSelector('.roll')
  await settled(page)
  const close = async (): Promise<void> => {
    await page.close()
    await served.close()
  }
  return { page, close }
}

async function drag(page: Page): Promise<void> {
  const cue = await page.locator('td.cue').nth(0).boundingBox()
  if (!cue) throw new Error('There is no cue to drag')
  await page.mouse.move(cue.x + cue.width / 2, cue.y + cue.height / 2)
  await page.mouse.down()
  for (let i = 0; i < FRAMES; i++) {
    await page.mouse.move(cue.x + cue.width / 2 + i * 2, cue.y + cue.height / 2 + (i % 3))
    await page.evaluate(() => window.bench.nextFrame())
  }
  await page.keyboard.press('Escape')
  await page.mouse.up()
}

const browser = await openBrowser()
const sections: string[] = []
try {
  const empty = await browser.newPage({ viewport: SIZE })
  await empty.addInitScript(watching)
  await empty.goto('data:text/html,<!doctype html><title>Empty</title><body style="height:20000px">')
  const baseline = await smoothness(empty, () => scroll(empty))
  await empty.close()
  const base = within(baseline.frames, 0.95)

  for (const fixtures of [16, 200]) {
    const { page, close } = await openLong(browser, fixtures, mainPath)
    try {
      const smooth: [string, Smoothness][] = [
        ['scroll', await smoothness(page, () => scroll(page))],
        ['zoom', await smoothness(page, () => zoom(page))],
      ]
      await page.evaluate(() => document.querySelector('.chart')?.scrollTo(0, 0))
      await settled(page)
      smooth.push(['drag a cue', await smoothness(page, () => drag(page))])
      // Fixtures make no difference to what was improved: once is enough.
      const then = fixtures === 16 ? await openLong(browser, fixtures, mainBefore) : null
      const now: Edited[] = []
      const before: Edited[] = []
      try {
        const [mine, old] = [await handsOn(page), then && (await handsOn(then.page))]
        // By turns, so that what else the machine does falls on both; the first two warm up.
        for (let n = 0; n < EDITS; n++) {
          const [after, earlier] = [await mine(n), await old?.(n)]
          if (n < 2) continue
          now.push(after)
          if (earlier) before.push(earlier)
        }
      } finally {
        await then?.close()
      }
      const rows = smooth.map(([name, { frames, longest }]) => [
        name,
        figure(within(frames, 0.5)),
        figure(within(frames, 0.95)),
        ratio(within(frames, 0.95), base),
        figure(longest),
      ])
      const of = [
        ['edit to its light roll on the screen', 'drawn'],
        ['longest task of an edit', 'task'],
        ["scripts of the page's thread, an edit", 'busy'],
        ['edit to its durable acknowledgement', 'saved'],
        ['edit to the first frame rendered with it', 'lit'],
      ] as const
      sections.push(`### ${fixtures} fixtures

${table(['', 'frame p50, ms', 'p95, ms', '/ empty p95', 'longest task, ms'], rows)}

${table(
  ['ms', 'before, p50', 'before, p95', 'now, p50', 'now, p95', 'now / before, p50', 'now p50 / empty p95'],
  of.map(([name, key]) => {
    const [old, ms] = [before, now].map(all => all.map(one => one[key]))
    return [
      name,
      ...[old!, ms!].flatMap(all => [figure(within(all, 0.5)), figure(within(all, 0.95))]),
      ratio(within(ms!, 0.5), within(old!, 0.5)),
      ratio(within(ms!, 0.5), base),
    ]
  }),
)}
`)
    } finally {
      await close()
    }
  }
  console.log(`## The chart (improved)

A song of 10,000 cues in 200 sections at ${SIZE.width} × ${SIZE.height} in headless Chromium without a graphics card, the server
and the engine on the same machine. Baseline: an empty page scrolled in the same browser, frame p95 ${figure(base)} ms, longest
task ${figure(baseline.longest)} ms. A longest task of 0 means that none reached 50 ms, below which browsers report none (W3C Long
Tasks API). Edits: ${EDITS - 2} times the level of a chosen cue is stepped by a key; scripts are counted until all is quiet again. Before, by turns
in the same run: after every edit each line of the song searched all pictures of lines for its own, and all advice was given its keys anew.

${sections.join('\n')}`)
} finally {
  await browser.close()
}
