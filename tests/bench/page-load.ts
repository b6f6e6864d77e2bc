// Bench: how much comes over the wire before the chart can be used, and how long that takes, now and before.

import type { Browser } from 'playwright-core'
import { openBrowser } from '../support/browser.ts'
import { serveDemo } from '../support/processes.ts'
import { mainBefore } from './before.ts'
import { figure, ratio, table, within } from './figures.ts'

const SIZE = { width: 1440, height: 900 }
const LOADS = 3
/** A phone at the far end of a hall: bits a second, ms to and fro. An assumption, the same for all rows. */
const WIRELESS = { bits: 8e6, latency: 20 }

interface Load {
  /** Bytes that came, headers included, before the first light stood. */
  bytes: number
  /** Ms from the address being entered until the first light roll has been painted and the page answers. */
  ready: number
}

/** Notes in the page when the first light roll has been painted and the next task is run. */
function watchFirstLight(): void {
  const draw = CanvasRenderingContext2D.prototype.drawImage
  const noted = globalThis as { firstLight?: number }
  CanvasRenderingContext2D.prototype.drawImage = function (
    this: CanvasRenderingContext2D,
    ...args: unknown[]
  ) {
    Reflect.apply(draw, this, args)
    if (!this.canvas.classList.contains('roll')) return
    requestAnimationFrame(() =>
      setTimeout(() => {
        noted.firstLight ??= performance.now()
      }),
    )
  } as typeof draw
}

async function load(browser: Browser, url: string, wireless: boolean): Promise<Load> {
  const context = await browser.newContext({ viewport: SIZE })
  try {
    const page = await context.newPage()
    const devtools = await context.newCDPSession(page)
    if (wireless) {
      const { bits, latency } = WIRELESS
      const each = { downloadThroughput: bits / 8, uploadThroughput: bits / 8 }
      await devtools.send('Network.emulateNetworkConditions', { offline: false, latency, ...each })
    }
    // The loader of TypeScript names functions through a helper, which a page has not.
    await page.addInitScript({ content: `globalThis.__name = named => named;(${watchFirstLight})()` })
    await page.goto(url)
    await page.waitForFunction(() => 'firstLight' in globalThis)
    return await page.evaluate(() => {
      const entries = [
        ...performance.getEntriesByType('navigation'),
        ...performance.getEntriesByType('resource'),
      ] as PerformanceResourceTiming[]
      const { firstLight } = globalThis as { firstLight?: number }
      const came = entries.filter(({ responseEnd }) => responseEnd <= firstLight!)
      return { bytes: came.reduce((sum, entry) => sum + entry.transferSize, 0), ready: firstLight! }
    })
  } finally {
    await context.close()
  }
}

async function loads(browser: Browser, url: string, wireless: boolean): Promise<Load> {
  const all: Load[] = []
  for (let i = 0; i < LOADS; i++) all.push(await load(browser, url, wireless))
  const middle = (of: (one: Load) => number): number => within(all.map(of), 0.5)
  return { bytes: middle(one => one.bytes), ready: middle(one => one.ready) }
}

/** The smallest page that the same server gives: its own answer about its state. */
async function empty(browser: Browser, url: string): Promise<Load> {
  const times: number[] = []
  let bytes = 0
  for (let i = 0; i < LOADS; i++) {
    const page = await browser.newPage({ viewport: SIZE })
    await page.goto(`${url}/api/status`)
    const one = await page.evaluate(async () => {
      await new Promise(resolve => requestAnimationFrame(() => setTimeout(resolve)))
      const [entry] = performance.getEntriesByType('navigation') as PerformanceResourceTiming[]
      return { bytes: entry!.transferSize, ready: performance.now() }
    })
    times.push(one.ready)
    bytes = one.bytes
    await page.close()
  }
  return { bytes, ready: within(times, 0.5) }
}

const browser = await openBrowser()
const [then, now] = [await serveDemo([], {}, undefined, mainBefore), await serveDemo()]
try {
  const base = await empty(browser, now.url)
  const rows = [['an empty page', figure(base.bytes / 1024), '–', figure(base.ready), '1', '–']]
  for (const wireless of [false, true]) {
    const place = wireless ? 'Wi-Fi' : 'the laptop itself'
    const [before, after] = [
      await loads(browser, then.url, wireless),
      await loads(browser, now.url, wireless),
    ]
    const row = (name: string, one: Load): string[] => [
      name,
      figure(one.bytes / 1024),
      ratio(one.bytes, before.bytes),
      figure(one.ready),
      ratio(one.ready, base.ready),
      ratio(one.ready, before.ready),
    ]
    rows.push(row(`${place}, before`, before), row(`${place}, now`, after))
  }
  console.log(`## Opening the page (improved)

The demo's chart in headless Chromium, middle of ${LOADS}: bytes over the wire with their headers (W3C Resource Timing,
\`transferSize\`) until the first light roll has been painted and the page takes the next task. "Wi-Fi" is the browser's own
limit at ${WIRELESS.bits / 1e6} Mbit/s with ${WIRELESS.latency} ms. Baseline: the app's answer at /api/status, opened as a page. Before, in the same run:
files went out as they are. Now text goes out compressed (gzip, RFC 1952: browsers take nothing better without TLS), and what has
its content's hash in its name is kept by the browser for good (not measured: every load here is the first).

${table(['', 'KiB', '/ before', 'ready, ms', '/ empty page', '/ before'], rows)}`)
} finally {
  await browser.close()
  await then.close()
  await now.close()
}
