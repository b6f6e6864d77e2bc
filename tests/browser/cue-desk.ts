// Writing cues in a real browser: the demo served to a page, and the hands and eyes of the tests on it.

import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Cue, Song } from '@glowchart/shared/show/song.ts'
import type { Browser, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect } from 'vitest'
import { openBrowser } from '../support/browser.ts'
import { openPage } from '../support/page-socket.ts'
import { type Served, serveDemo } from '../support/processes.ts'

export const BEAT = 960
export const BAR = 4 * BEAT
let served: Served
let browser: Browser
export let page: Page
export let untouched: Show
export const faults: string[] = []

export async function open(options: Parameters<Browser['newPage']>[0]): Promise<Page> {
  const opened = await browser.newPage(options)
  opened.setDefaultTimeout(10_000)
  opened.on('pageerror', error => faults.push(String(error)))
  opened.on('console', message => message.type() === 'error' && faults.push(message.text()))
  await opened.goto(served.url)
  await opened.locator('.line').first().waitFor()
  return opened
}

export async function serversShow(): Promise<Show> {
  const socket = await openPage(served.url, 'test-reader')
  socket.close()
  return socket.hello.show
}
const saved = () => page.getByRole('status', { name: 'Saving' }).getByText('Saved', { exact: true }).waitFor()
/** The steps back and on: looked for in their own corner, as a name is slow to find among all that a chart holds. */
const step = (says: RegExp) => page.locator('.history').getByRole('button', { name: says })
export const offered = (says: RegExp) => step(says).waitFor()
export const foot = () => page.locator('.chart-foot p')

export const songOf = (show: Show, index = 0): Song => show.songs[show.songOrder[index]!]!
const cuesOf = (song: Song): Map<string, Cue> =>
  new Map(Object.values(song.sections).flatMap(section => Object.entries(section.cues)))
/** The cues that are new or other than before, in order of time. */
export async function written(index = 0): Promise<Cue[]> {
  await saved()
  const before = cuesOf(songOf(untouched, index))
  return [...cuesOf(songOf(await serversShow(), index))]
    .filter(([id, cue]) => JSON.stringify(before.get(id)) !== JSON.stringify(cue))
    .map(([, cue]) => cue)
    .sort((a, b) => a.at - b.at)
}

/** Bars 1… of the first line on the row of a part: where they are, and how wide. */
export async function row(
  part: string,
  on = page,
): Promise<{ x: (bar: number) => number; y: number; bar: number }> {
  await on.locator('.chart').evaluate(chart => {
    chart.scrollTop = 0
  })
  // Lines far out of sight are not on the page: this one comes back.
  const first = on.locator('.line[aria-label$=", from bar 1"]')
  await first.waitFor()
  if (!(await first.evaluate(line => line.classList.contains('open')))) await first.locator('.gutter').click()
  const place = await first.evaluate((line, name) => {
    const notes = line.querySelector('.notes')!.getBoundingClientRect()
    const row = [...line.querySelectorAll('th')].find(th => th.textContent === name)!.getBoundingClientRect()
    return {
      left: notes.left,
      bar: notes.width / line.querySelectorAll('.bar-number').length,
      y: row.top + row.height / 2,
    }
  }, part)
  return { x: bar => place.left + (bar - 1) * place.bar, y: place.y, bar: place.bar }
}

export async function drag(from: [number, number], to: [number, number], held?: string): Promise<void> {
  if (held) await page.keyboard.down(held)
  await page.mouse.move(...from)
  await page.mouse.down()
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2)
  await page.mouse.move(...to)
  await page.mouse.up()
  if (held) await page.keyboard.up(held)
}

/** Two cues of a bar that touch, bars 2 and 3 of the highest part, which is dark there in the demo; both chosen. */
export async function twoThatTouch(): Promise<Awaited<ReturnType<typeof row>>> {
  const letters = await row('Letters')
  const { x, y } = letters
  await drag([x(2) + 3, y], [x(3) - 3, y])
  await offered(/^Undo: Add a cue/)
  // The edge of a chosen cue is held from outside too.
  await page.keyboard.press('Escape')
  await drag([x(3) + 3, y], [x(4) - 3, y])
  await page.getByRole('region', { name: /^Cue: / }).waitFor()
  await page.keyboard.down('Shift')
  await page.mouse.click(x(2.5), y)
  await page.keyboard.up('Shift')
  await page.getByText('2 cues', { exact: true }).first().waitFor()
  return letters
}

/** Serves the demo to a page for the tests of the file that calls this, and ends both after them. */
export function onTheDemo(): void {
  beforeAll(async () => {
    ;[served, browser] = await Promise.all([serveDemo(), openBrowser()])
    page = await open({ viewport: { width: 1440, height: 900 } })
    untouched = await serversShow()
  })
  afterAll(async () => {
    await browser?.close()
    await served?.close()
  })
  /** Every test leaves the show as it was, so that all of them also test undo. */
  afterEach(async () => {
    const undo = step(/^Undo: /)
    while ((await undo.count()) > 0) {
      await page.keyboard.press('Escape')
      await page.keyboard.press('Control+z')
    }
    await saved()
    expect(canonicalText(await serversShow())).toBe(canonicalText(untouched))
    await page.keyboard.press('Escape')
    await page.keyboard.press('Home')
  })
}
