// Bench: the chart with 10,000 cues in 200 sections in a browser: scroll, zoom, drag, and how long an edit takes to be seen
// and to be lit, against an empty page in the same browser.

import { bundleText } from '@glowchart/shared/show/bundle.ts'
import type { Page } from 'playwright-core'
import { openBrowser } from '../support/browser.ts'
import { longShow } from '../support/long-show.ts'
import { serveDemo } from '../support/processes.ts'
import { watchChart } from './chart-watch.ts'
import { figure, ratio, table, within } from './figures.ts'

const SIZE = { width: 1440, height: 900 }
const EDITS = 12
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
  for (let i = 0; i < 6; i++) {
    await page.getByRole('button', { name: i % 2 === 0 ? 'Fewer bars a line' : 'More bars a line' }).click()
    for (let n = 0; n < FRAMES / 6; n++) await page.evaluate(() => window.bench.nextFrame())
  }
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
    const served = await serveDemo()
    try {
      const documents = longShow({ sections: 200, cues: 10_000, fixtures })
      const imported = await fetch(`${served.url}/api/import`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: bundleText(documents),
      })
      if (!imported.ok) throw new Error(`The long show was refused: ${await imported.text()}`)
      const page = await browser.newPage({ viewport: SIZE })
      await page.addInitScript(watching)
      await page.goto(served.url)
      await page.waitForSelector('.roll')
      await settled(page)
      const smooth: [string, Smoothness][] = [
        ['scroll', await smoothness(page, () => scroll(page))],
        ['zoom', await smoothness(page, () => zoom(page))],
      ]
      await page.evaluate(() => document.querySelector('.chart')?.scrollTo(0, 0))
      await settled(page)
      smooth.push(['drag a cue', await smoothness(page, () => drag(page))])

      // A cue is chosen, then moved to and fro by a key, as hands do.
      const cue = await page.locator('td.cue').nth(0).boundingBox()
      await page.mouse.click(cue!.x + cue!.width / 2, cue!.y + cue!.height / 2)
      await settled(page)
      const roll: number[] = []
      const task: number[] = []
      const saved: number[] = []
      const lit: number[] = []
      for (let i = 0; i < EDITS; i++) {
        await page.evaluate(() => window.bench.begin())
        await page.evaluate(() => window.bench.armEdit())
        await page.keyboard.press(i % 2 === 0 ? 'Shift+ArrowDown' : 'Shift+ArrowUp')
        const seen = await page.evaluate(() => window.bench.edited())
        const { longest } = await page.evaluate(() => window.bench.end())
        await settled(page)
        if (i < 2) continue
        roll.push(seen.drawn)
        saved.push(seen.saved)
        lit.push(seen.lit)
        task.push(longest)
      }
      const rows = smooth.map(([name, { frames, longest }]) => [
        name,
        figure(within(frames, 0.5)),
        figure(within(frames, 0.95)),
        ratio(within(frames, 0.95), base),
        figure(longest),
      ])
      const edits = [
        ['edit to its light roll on the screen', roll],
        ['edit to its durable acknowledgement', saved],
        ['edit to the first frame rendered with it', lit],
        ['longest task of an edit', task],
      ] as const
      sections.push(`### ${fixtures} fixtures

${table(['', 'frame p50, ms', 'p95, ms', '/ empty p95', 'longest task, ms'], rows)}

${table(
  ['', 'p50, ms', 'p95, ms', 'p50 / empty p95'],
  edits.map(([name, ms]) => [
    name,
    figure(within(ms, 0.5)),
    figure(within(ms, 0.95)),
    ratio(within(ms, 0.5), base),
  ]),
)}
`)
      await page.close()
    } finally {
      await served.close()
    }
  }
  console.log(`## The chart

A song of 10,000 cues in 200 sections at ${SIZE.width} × ${SIZE.height} in headless Chromium without a graphics card, the server
and the engine on the same machine. Baseline: an empty page scrolled in the same browser, frame p95 ${figure(base)} ms, longest
task ${figure(baseline.longest)} ms. A longest task of 0 means that none reached 50 ms, below which browsers report none (W3C Long
Tasks API). Edits: ${EDITS - 2} times the level of a chosen cue is stepped by a key.

${sections.join('\n')}`)
} finally {
  await browser.close()
}
